using System.Diagnostics.CodeAnalysis;
using Incubation.Storage.Records;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using NodaTime;
using Xunit;

namespace Incubation.Storage.Tests.Records;

public sealed class OpeningTests : IDisposable
{
    private readonly RecordsFile _file = new();

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Migrate_makes_the_schema_once_and_then_has_nothing_to_do()
    {
        Assert.NotEmpty(await _file.Opening.MigrateAsync(Stop));
        Assert.Empty(await _file.Opening.MigrateAsync(Stop));
    }

    // sqlite.org/pragma.html: synchronous 2 is FULL.
    [Fact]
    public async Task Every_connection_has_the_pragmas_that_the_records_rely_on()
    {
        await _file.Opening.MigrateAsync(Stop);
        await using RecordsContext records = _file.CreateDbContext();
        await records.Database.OpenConnectionAsync(Stop);
        Assert.Equal("wal", await PragmaAsync(records, "journal_mode"));
        Assert.Equal("2", await PragmaAsync(records, "synchronous"));
        Assert.Equal("1", await PragmaAsync(records, "foreign_keys"));
        Assert.Equal("67108864", await PragmaAsync(records, "journal_size_limit"));
    }

    [Fact]
    public async Task Migrate_goes_on_after_a_process_died_while_it_held_the_lock()
    {
        await _file.ExecuteAsync("CREATE TABLE \"__EFMigrationsLock\" (\"Id\" INTEGER NOT NULL PRIMARY KEY, \"Timestamp\" TEXT NOT NULL)");
        await _file.ExecuteAsync("INSERT INTO \"__EFMigrationsLock\" VALUES (1, '2026-11-25 03:00:00+00:00')");
        Assert.NotEmpty(await _file.Opening.MigrateAsync(Stop));
    }

    [Fact]
    public async Task Migrate_refuses_records_of_a_newer_program_and_changes_nothing()
    {
        await _file.Opening.MigrateAsync(Stop);
        await _file.ExecuteAsync("INSERT INTO \"__EFMigrationsHistory\" VALUES ('29991231235959_Future', '99.0.0')");
        RecordsUnavailableException error = await Assert.ThrowsAsync<RecordsUnavailableException>(() => _file.Opening.MigrateAsync(Stop));
        Assert.Contains("newer version", error.Message, StringComparison.Ordinal);
        Assert.Contains("29991231235959_Future", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Migrate_refuses_a_file_that_is_no_database_with_words()
    {
        await File.WriteAllTextAsync(_file.Path, new string('x', 8192), Stop);
        RecordsUnavailableException error = await Assert.ThrowsAsync<RecordsUnavailableException>(() => _file.Opening.MigrateAsync(Stop));
        Assert.Contains("damaged or no database", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Foreign_keys_are_enforced()
    {
        await _file.Opening.MigrateAsync(Stop);
        await using RecordsContext records = _file.CreateDbContext();
        records.Placements.Add(new PlacementRecord { Id = Guid.CreateVersion7(), Probe = "none", Incubator = "none", Where = "air", By = "Ada" });
        DbUpdateException error = await Assert.ThrowsAsync<DbUpdateException>(() => records.SaveChangesAsync(Stop));
        Assert.Equal(19, Assert.IsType<SqliteException>(error.InnerException).SqliteErrorCode);
    }

    /// <summary>Every schema that landed has rows in Fixtures; each must come up to date with its rows whole.</summary>
    [Theory]
    [InlineData("records-20261125080729_Initial.sql")]
    [InlineData("records-20261125082751_Eggs.sql")]
    [InlineData("records-20261125110216_Probes.sql")]
    [InlineData("records-20261125142220_Trust.sql")]
    public async Task Migrate_brings_each_earlier_schema_up_to_date_with_its_rows(string fixture)
    {
        await _file.LoadAsync(await File.ReadAllTextAsync(Path.Combine(AppContext.BaseDirectory, "Fixtures", fixture), Stop));
        await _file.Opening.MigrateAsync(Stop);
        await using RecordsContext records = _file.CreateDbContext();
        IncubatorRecord hazel = await records.Incubators.SingleAsync(Stop);
        Assert.Equal(("hazel", "Hazel", Instant.FromUtc(2026, 11, 25, 3, 0)), (hazel.Key, hazel.Name, hazel.CreatedAt));
        Assert.Equal("air, upper shelf", (await records.Placements.SingleAsync(Stop)).Where);
        Assert.Equal(33.5, (await records.Bands.SingleAsync(Stop)).DangerHigh);
        Assert.Equal("Ada", (await records.People.SingleAsync(Stop)).Name);
        Assert.Equal("raised", (await records.AlarmJournal.SingleAsync(Stop)).Event);
        Assert.Equal("Mara", (await records.CallSteps.SingleAsync(Stop)).Who);
        Assert.Equal("waiting", (await records.Calls.SingleAsync(Stop)).Status);
        Assert.Equal("ok", await _file.ScalarAsync("SELECT integrity_check FROM pragma_integrity_check"));
    }

    [Fact]
    public async Task Migrate_keeps_clutches_and_everything_that_was_entered_about_their_eggs()
    {
        await _file.LoadAsync(await File.ReadAllTextAsync(Path.Combine(AppContext.BaseDirectory, "Fixtures", "records-20261125082751_Eggs.sql"), Stop));
        await _file.Opening.MigrateAsync(Stop);
        await using RecordsContext records = _file.CreateDbContext();
        ClutchRecord clutch = await records.Clutches.SingleAsync(Stop);
        Assert.Equal(("C-01", new LocalDate(2026, 11, 20), "<b>first</b> 🥚"), (clutch.Label, clutch.LayDate, clutch.Note));
        EggRecord egg = await records.Eggs.SingleAsync(Stop);
        Assert.Equal((clutch.Id, 0.4, 2), (egg.Clutch, egg.X, egg.Clump));
        CandlingRecord look = await records.Candlings.SingleAsync(Stop);
        Assert.Equal((egg.Id, "full net", true, 82.5), (look.Egg, look.Veins, look.MovementSeen, look.MassGrams));
        Assert.Equal("carries", (await records.Outcomes.SingleAsync(Stop)).TraitSeen);
        Assert.Equal("tub-2", (await records.ClutchPlacements.SingleAsync(Stop)).Tub);
        Assert.Equal("upper", (await records.TubPlacements.SingleAsync(Stop)).Shelf);
        Assert.Equal(400, (await records.Tubs.SingleAsync(Stop)).WaterGrams);
        Assert.Equal("water", (await records.Care.SingleAsync(Stop)).Kind);
        Assert.Equal("ember", (await records.Pairings.SingleAsync(Stop)).Trait);
        Assert.Equal("Ember", (await records.Traits.SingleAsync(Stop)).Name);
        Assert.Equal("#a3b86c", (await records.TintTerms.SingleAsync(Stop)).Colour);
    }

    public void Dispose() => _file.Dispose();

    [SuppressMessage("Security", "EF1002", Justification = "The names are the test's own.")]
    private static Task<string> PragmaAsync(RecordsContext records, string name)
        => records.Database.SqlQueryRaw<string>($"SELECT CAST({name} AS TEXT) AS Value FROM pragma_{name}").SingleAsync(Stop);
}
