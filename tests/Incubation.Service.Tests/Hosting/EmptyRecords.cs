using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;

namespace Incubation.Service.Tests.Hosting;

/// <summary>
/// Records of today's schema without a row, made once in a test run by the real migrations and copied into each new data directory, since
/// migrating a new file is most of a start. The migrations have tests of their own.
/// </summary>
internal static class EmptyRecords
{
    private static readonly Lazy<Task<byte[]>> Bytes = new(MakeAsync);

    public static async Task PutIntoAsync(string directory)
    {
        string file = Path.Combine(directory, "records.db");
        if (!File.Exists(file))
        {
            await File.WriteAllBytesAsync(file, await Bytes.Value);
        }
    }

    private static async Task<byte[]> MakeAsync()
    {
        DirectoryInfo directory = Directory.CreateTempSubdirectory("incubation-empty-");
        var contexts = new Contexts(Path.Combine(directory.FullName, "records.db"));
        await new RecordsOpening(contexts).MigrateAsync(CancellationToken.None);
        byte[] bytes = await File.ReadAllBytesAsync(contexts.File);
        directory.Delete(recursive: true);
        return bytes;
    }

    private sealed class Contexts(string file) : IDbContextFactory<RecordsContext>
    {
        public string File => file;

        public RecordsContext CreateDbContext()
        {
            var options = new DbContextOptionsBuilder<RecordsContext>();
            RecordsOpening.Configure(options, file, pooling: false);
            return new RecordsContext(options.Options);
        }
    }
}
