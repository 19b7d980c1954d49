using Incubation.Storage.Influx;
using Incubation.Storage.Readings;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.Time.Testing;

namespace Incubation.Storage.Tests.Influx;

/// <summary>A readings store with an outbox, in a folder that goes with it.</summary>
internal sealed class CopiedStore : IAsyncDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("incubation-copy-");

    public CopiedStore(string? target = "there", int mostRows = 1_000_000, int mostRefused = 1_000)
    {
        Path = System.IO.Path.Combine(_folder.FullName, "readings.db");
        (Outbox, Store) = Open(target, mostRows, mostRefused);
    }

    public string Path { get; }
    public CopyOutbox Outbox { get; private set; }
    public SqliteReadingStore Store { get; private set; }
    public FakeTimeProvider Time { get; } = new();

    /// <summary>What stands in the outbox's tables on the disk.</summary>
    public long Rows(string table)
    {
        using SqliteConnection connection = new($"Data Source={Path};Pooling=False;Mode=ReadOnly");
        connection.Open();
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = $"SELECT count(*) FROM {table}";
        return (long)command.ExecuteScalar()!;
    }

    public InfluxCopy Copy(IPointWriter writer) => new(Outbox, Store, writer, Time, () => 0);

    /// <summary>Stops and starts again; null as the target means without a copy.</summary>
    public async Task ReopenAsync(string? target = "there", int mostRows = 1_000_000, int mostRefused = 1_000)
    {
        await Store.DisposeAsync();
        Outbox.Close();
        (Outbox, Store) = Open(target, mostRows, mostRefused);
    }

    public async ValueTask DisposeAsync()
    {
        await Store.DisposeAsync();
        Outbox.Close();
        _folder.Delete(recursive: true);
    }

    private (CopyOutbox, SqliteReadingStore) Open(string? target, int mostRows, int mostRefused)
    {
        CopyOutbox outbox = new(Path, target ?? "", mostRows, mostRefused);
        if (target is null)
        {
            CopyOutbox.Forget(Path);
        }

        SqliteReadingStore store = new(new SqliteReadingStoreOptions { Path = Path, Parts = target is null ? [] : [outbox.Part] });
        store.Open();
        return (outbox, store);
    }
}

/// <summary>Stands where InfluxDB is: keeps the lines it is given, unless told what to answer.</summary>
internal sealed class ScriptedWriter : IPointWriter
{
    /// <summary>Points by their series and time, as a time-series database keeps them.</summary>
    public Dictionary<string, string> Kept { get; } = [];

    public List<int> Sizes { get; } = [];

    /// <summary>Answers instead of taking the lines, when it gives an answer.</summary>
    public Func<IReadOnlyList<string>, WriteAnswer?> Answer { get; set; } = _ => null;

    public Task<WriteAnswer> WriteAsync(IReadOnlyList<string> lines, CancellationToken cancellationToken)
    {
        Sizes.Add(lines.Count);
        if (Answer(lines) is { } answer)
        {
            return Task.FromResult(answer);
        }

        foreach (string line in lines)
        {
            int fields = line.LastIndexOf(" value=", StringComparison.Ordinal), time = line.LastIndexOf(' ');
            Kept[line[..fields] + line[time..]] = line;
        }

        return Task.FromResult(new WriteAnswer(204, null, ""));
    }
}

/// <summary>Works the copy until nothing waits.</summary>
internal static class Working
{
    public static async Task UntilIdleAsync(InfluxCopy copy, CancellationToken stop, int most = 100_000)
    {
        for (int i = 0; i < most; i++)
        {
            if (await copy.StepAsync(stop) != TimeSpan.Zero)
            {
                return;
            }
        }

        throw new InvalidOperationException("The copy never came to rest.");
    }
}
