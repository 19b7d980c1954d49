using System.Globalization;
using System.Text.Json.Nodes;
using Incubation.EndToEnd.Tests.Instruments;
using Incubation.Storage.Readings;
using Microsoft.Data.Sqlite;
using NodaTime;
using Xunit;

namespace Incubation.EndToEnd.Tests.Import;

/// <summary>A file of readings is brought into the real program while a probe is heard, which is killed twice and told to stop once.</summary>
public sealed class ImportTests(ITestOutputHelper output)
{
    private static int Lines => Seed.Long ? 10_000_000 : 50_000;

    [Fact(Timeout = 3_600_000)]
    public async Task A_file_is_brought_in_over_two_kills_and_a_stop_while_a_probe_is_heard_and_the_history_is_the_file()
    {
        CancellationToken stop = TestContext.Current.CancellationToken;
        ServiceSetup setup = new() { Settings = { ["Incubation__Disk__SpoolMegabytes"] = "32" } };
        ShelfFile file = new(Path.Combine(setup.Data, "shelf.csv"), Lines);
        await file.WriteAsync(stop);
        List<long> heard = [];
        ImportClient import;
        await using (ServiceProcess service = await ServiceProcess.StartAsync(setup, stop))
        {
            using ServiceClient client = await ServiceClient.ClaimAsync(service, stop);
            import = await ImportClient.SendAsync(client, service.Address, file, stop);
            await import.DoAsync("dry-runs", stop);
            JsonNode tried = await import.EndAsync(stop);
            Assert.Equal((file.Good, file.Bad), ((int)tried["dryRun"]!["taken"]!, (int)tried["dryRun"]!["refused"]!));

            // Held by another program, the database takes nothing: the probe's readings go into the spool file, and the import waits.
            await using LiveProbe probe = await LiveProbe.StartAsync(service.MqttPort, 0, stop);
            await using (SqliteConnection held = await HoldAsync(setup.Data, stop))
            {
                await import.DoAsync("runs", stop);
                await import.SaysAsync("Waits", stop);
                await probe.HeardMoreAsync(stop);
                await service.KillAsync(stop);
            }

            heard.AddRange(await probe.EndAsync());
        }

        await using (ServiceProcess service = await ServiceProcess.StartAsync(setup, stop))
        {
            (import, ServiceClient client) = await BackAsync(import, service, stop);
            using ServiceClient _ = client;
            await using LiveProbe probe = await LiveProbe.StartAsync(service.MqttPort, 1, stop);
            await import.DoAsync("runs", stop);
            await import.DoneAsync(Lines / 4, stop);
            await service.KillAsync(stop);
            heard.AddRange(await probe.EndAsync());
        }

        await using (ServiceProcess service = await ServiceProcess.StartAsync(setup, stop))
        {
            (import, ServiceClient client) = await BackAsync(import, service, stop);
            using ServiceClient _ = client;
            await using LiveProbe probe = await LiveProbe.StartAsync(service.MqttPort, 2, stop);
            await import.DoAsync("runs", stop);
            await import.DoneAsync(Lines / 2, stop);
            JsonNode stopped = await import.DoAsync("stops", stop);
            Assert.True((string?)stopped["state"] is "stopped" or "done");
            long from = (long)stopped["run"]!["lines"]!, before = probe.Heard, started = TimeProvider.System.GetTimestamp();
            if ((string?)stopped["state"] == "stopped")
            {
                await import.DoAsync("runs", stop);
            }

            JsonNode done = await import.EndAsync(stop);
            double seconds = TimeProvider.System.GetElapsedTime(started).TotalSeconds;
            Assert.Equal(("done", file.Good, file.Bad, Lines + 1), ((string?)done["state"], (int)done["run"]!["taken"]!, (int)done["run"]!["refused"]!, (int)done["run"]!["lines"]!));
            output.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"import of {Lines} lines, killed twice and stopped once, gone on with at line {from}: {(Lines - from) / seconds:0} lines/s, {(probe.Heard - before) / seconds:0} live readings/s acknowledged meanwhile to a probe that waits for each, at most {PeakMegabytes(service.Id)} MB of memory"));
            heard.AddRange(await probe.EndAsync());
            Assert.Equal(0, await service.TerminateAsync(stop));
        }

        await using SqliteReadingStore store = new(new SqliteReadingStoreOptions { Path = Path.Combine(setup.Data, "readings.db") });
        store.Open();
        Assert.Equal("", file.Differences(store));
        HashSet<long> kept = [.. store.Read(LiveProbe.Series, Instant.FromUnixTimeSeconds(0), Instant.FromUtc(2100, 1, 1, 0, 0)).Select(reading => reading.At.ToUnixTimeMilliseconds())];
        Assert.NotEmpty(heard);
        Assert.DoesNotContain(heard, at => !kept.Contains(at));
    }

    private static async Task<(ImportClient Import, ServiceClient Client)> BackAsync(ImportClient import, ServiceProcess service, CancellationToken stop)
    {
        ServiceClient client = new(service.Address);
        await client.SignInAsync(stop);
        ImportClient there = import.At(client, service.Address);
        JsonNode now = await Waiting.ForAsync(
            async () => await there.LookAsync(stop) is var view && (string?)view["state"] != "running" ? view : null, TimeSpan.FromSeconds(60), "the import to be told as stopped", stop);
        Assert.Equal("stopped", (string?)now["state"]);
        Assert.Contains("go on", (string?)now["run"]!["words"], StringComparison.Ordinal);
        return (there, client);
    }

    private static async Task<SqliteConnection> HoldAsync(string data, CancellationToken stop)
    {
        SqliteConnection connection = new($"Data Source={Path.Combine(data, "readings.db")};Pooling=False;Default Timeout=60");
        await connection.OpenAsync(stop);
        await using SqliteCommand begin = connection.CreateCommand();
        begin.CommandText = "BEGIN IMMEDIATE";
        await begin.ExecuteNonQueryAsync(stop);
        return connection;
    }

    // VmHWM: the most that was resident (proc(5)).
    private static long PeakMegabytes(int process) => File.ReadLines(string.Create(CultureInfo.InvariantCulture, $"/proc/{process}/status"))
        .Where(line => line.StartsWith("VmHWM:", StringComparison.Ordinal))
        .Select(line => long.Parse(line.Split(' ', StringSplitOptions.RemoveEmptyEntries)[1], CultureInfo.InvariantCulture) / 1024).First();
}
