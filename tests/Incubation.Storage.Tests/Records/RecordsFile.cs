using System.Diagnostics.CodeAnalysis;
using Incubation.Storage.Records;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Xunit;

namespace Incubation.Storage.Tests.Records;

/// <summary>A records file of its own in a temporary folder.</summary>
internal sealed class RecordsFile : IDbContextFactory<RecordsContext>, IDisposable
{
    private readonly DirectoryInfo _directory = Directory.CreateTempSubdirectory("incubation-records-");

    public string Path => System.IO.Path.Combine(_directory.FullName, "records.db");

    public RecordsOpening Opening => new(this);

    public RecordsContext CreateDbContext()
    {
        var options = new DbContextOptionsBuilder<RecordsContext>();
        RecordsOpening.Configure(options, Path, pooling: false);
        return new RecordsContext(options.Options);
    }

    [SuppressMessage("Security", "EF1002", Justification = "The text is the test's own.")]
    public async Task<string> ScalarAsync(string sql)
    {
        await using RecordsContext records = CreateDbContext();
        return await records.Database.SqlQueryRaw<string>($"SELECT CAST(({sql}) AS TEXT) AS Value").SingleAsync(TestContext.Current.CancellationToken);
    }

    public async Task ExecuteAsync(string sql)
    {
        await using RecordsContext records = CreateDbContext();
        await records.Database.ExecuteSqlRawAsync(sql, TestContext.Current.CancellationToken);
    }

    /// <summary>Runs a dump; its tables come in the order of their names, so foreign keys are off while it does.</summary>
    public async Task LoadAsync(string dump)
    {
        await using var connection = new SqliteConnection($"Data Source={Path};Foreign Keys=False;Pooling=False");
        await connection.OpenAsync(TestContext.Current.CancellationToken);
        await using SqliteCommand command = connection.CreateCommand();
#pragma warning disable CA2100 // The dump is a file of this repository.
        command.CommandText = dump;
#pragma warning restore CA2100
        await command.ExecuteNonQueryAsync(TestContext.Current.CancellationToken);
    }

    public void Dispose() => _directory.Delete(recursive: true);
}
