using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Metadata;
using NodaTime;
using Xunit;

namespace Incubation.Storage.Tests.Records;

public sealed class ModelTests : IDisposable
{
    private readonly RecordsFile _file = new();

    [Fact]
    public void Model_has_no_change_that_no_migration_makes()
    {
        using RecordsContext records = _file.CreateDbContext();
        Assert.False(records.Database.HasPendingModelChanges());
    }

    // "SQLite Database Provider - Limitations", learn.microsoft.com/ef/core/providers/sqlite/limitations: DateTimeOffset, Decimal, TimeSpan
    // and UInt64 can't be compared or ordered in the database. DateTime comes back without its kind.
    [Fact]
    public void Model_maps_no_type_that_a_database_would_sort_or_shift_wrongly()
    {
        Type[] banned = [typeof(DateTime), typeof(DateTimeOffset), typeof(decimal), typeof(TimeSpan), typeof(ulong), typeof(DateOnly), typeof(TimeOnly)];
        IProperty[] properties = Properties();
        Assert.NotEmpty(properties);
        Assert.DoesNotContain(properties, p => banned.Contains(Plain(p.ClrType)) || banned.Contains(Plain(p.GetTypeMapping().Converter?.ProviderClrType ?? p.ClrType)));
    }

    [Fact]
    public void Model_keeps_every_instant_as_a_whole_number()
        => Assert.All(Properties().Where(p => Plain(p.ClrType) == typeof(Instant)), p => Assert.Equal(typeof(long), Plain(p.GetTypeMapping().Converter!.ProviderClrType)));

    // What PostgreSQL lacks or does otherwise: type names, collations, computed columns and defaults written for one provider.
    [Fact]
    public void Model_says_nothing_that_only_one_database_understands()
        => Assert.DoesNotContain(Properties(), p =>
            p.GetColumnType() is not ("TEXT" or "INTEGER" or "REAL" or "BLOB") || p.GetCollation() is not null || p.GetComputedColumnSql() is not null || p.GetDefaultValueSql() is not null);

    public void Dispose() => _file.Dispose();

    private IProperty[] Properties()
    {
        using RecordsContext records = _file.CreateDbContext();
        return [.. records.GetService<IDesignTimeModel>().Model.GetEntityTypes().SelectMany(e => e.GetProperties())];
    }

    private static Type Plain(Type type) => Nullable.GetUnderlyingType(type) ?? type;
}
