using Incubation.EndToEnd.Tests.Instruments;
using Microsoft.Data.Sqlite;

namespace Incubation.EndToEnd.Tests.Durability;

/// <summary>How far sealing has come, by the readings file.</summary>
internal static class SealedDays
{
    /// <summary>How many days of a series were sealed so far, those that were laid out again included: no row's number is used twice.</summary>
    public static long Ever(string data)
    {
        using SqliteConnection connection = new($"Data Source={Path.Combine(data, "readings.db")};Pooling=False");
        connection.Open();
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = "SELECT coalesce(max(seq), 0) FROM sqlite_sequence WHERE name = 'sealed'";
        return (long)command.ExecuteScalar()!;
    }

    /// <summary>Waits until more days were sealed than before.</summary>
    public static Task MoreAsync(string data, long before, CancellationToken stop)
        => Waiting.UntilAsync(() => Task.FromResult(Ever(data) > before), TimeSpan.FromSeconds(60), "days to be sealed", stop);
}
