using System.Globalization;
using System.Text;
using Incubation.Core.Readings;
using Incubation.EndToEnd.Tests.Instruments;
using Incubation.Storage.Readings;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Incubation.Benchmarks.Readings;

/// <summary>
/// What 50 probes at 10 s make the whole published program write to the disk in a day, by the kernel's own count (<c>write_bytes</c> of
/// <c>/proc/[pid]/io</c>): a stretch of real minutes on 50 real connections, after the stock of commits at once is used up, times as many stretches
/// as a day has. The stretch is too short for a checkpoint and for the end of a day, so both are measured by themselves and added: the checkpoint of just
/// what the stretch left in the log, and the summing up and sealing of one whole day of the same probes.
/// </summary>
internal static class DiskDayBench
{
    private const int Probes = 50, PayloadRoom = 512, UsedUp = 300;
    private static readonly TimeSpan Stretch = TimeSpan.FromMinutes(4);
    private static readonly TimeSpan Between = TimeSpan.FromSeconds(10.0 / Probes);

    public static async Task MeasureAsync(Figures figures, string folder, string program, CancellationToken stop)
    {
        (double running, double checkpoint) = await StretchAsync(program, stop);
        double sealing = await SealingAsync(Path.Combine(folder, "day.db"), stop);
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"  disk: {Stretch.TotalMinutes:0} minutes on {Probes} connections; a day of that {running:0.00} GB, its checkpoints {checkpoint:0.00} GB, rollups and sealing {sealing:0.000} GB"));
        figures.Add("readings/written-a-day-by-50-probes", running + checkpoint + sealing, "GB", Bound.AtMost, 2);
    }

    private static async Task<(double Running, double Checkpoint)> StretchAsync(string program, CancellationToken stop)
    {
        ServiceSetup setup = new() { Program = program };
        await using ServiceProcess service = await ServiceProcess.StartAsync(setup, stop);
        List<MqttPeer> probes = [];
        using CancellationTokenSource end = CancellationTokenSource.CreateLinkedTokenSource(stop);
        try
        {
            for (int probe = 0; probe < Probes; probe++)
            {
                probes.Add(new MqttPeer());
                await probes[probe].ConnectAsync(service.MqttPort, Name(probe), stop);
            }

            int answers = 0, sent = 0;
            Task[] hearing = [.. probes.Select(probe => HearAsync(probe, () => Interlocked.Increment(ref answers), end.Token))];
            for (; sent < UsedUp; sent++)
            {
                await PublishAsync(probes[sent % Probes], sent, stop);
                await Waiting.UntilAsync(() => Task.FromResult(Volatile.Read(ref answers) > sent), TimeSpan.FromSeconds(30), "an acknowledgement", stop);
            }

            // One round in the rhythm first, so that the service knows it.
            sent = await RhythmAsync(probes, sent, TimeSpan.FromSeconds(20), stop);
            long before = Written(service.Id), begun = TimeProvider.System.GetTimestamp();
            sent = await RhythmAsync(probes, sent, Stretch, stop);
            double share = TimeProvider.System.GetElapsedTime(begun) / TimeSpan.FromDays(1);
            double running = (Written(service.Id) - before) / share;
            await end.CancelAsync();
            await Task.WhenAll(hearing);
            long own = Written(Environment.ProcessId);
            using (SqliteConnection file = new($"Data Source={Path.Combine(setup.Data, "readings.db")};Pooling=False"))
            {
                file.Open();
                using SqliteCommand checkpoint = file.CreateCommand();
                checkpoint.CommandText = "PRAGMA wal_checkpoint(FULL)";
                checkpoint.ExecuteNonQuery();
            }

            return (running / 1e9, (Written(Environment.ProcessId) - own) / share / 1e9);
        }
        finally
        {
            probes.ForEach(probe => probe.Dispose());
        }
    }

    private static async Task<int> RhythmAsync(List<MqttPeer> probes, int sent, TimeSpan time, CancellationToken stop)
    {
        long begun = TimeProvider.System.GetTimestamp();
        using PeriodicTimer timer = new(Between, TimeProvider.System);
        while (TimeProvider.System.GetElapsedTime(begun) < time && await timer.WaitForNextTickAsync(stop))
        {
            await PublishAsync(probes[sent % Probes], sent, stop);
            sent++;
        }

        return sent;
    }

    private static async Task<double> SealingAsync(string path, CancellationToken stop)
    {
        await using SqliteReadingStore store = new(new SqliteReadingStoreOptions { Path = path });
        store.Open();
        await store.ImportAsync(Season.Together(Probes, 1), stop);
        long before = Written(Environment.ProcessId);
        await store.SealAsync(Season.Start + Duration.FromDays(3), stop);
        await store.DisposeAsync();
        return (Written(Environment.ProcessId) - before) / 1e9;
    }

    private static Task PublishAsync(MqttPeer probe, int number, CancellationToken stop)
    {
        byte[] packet = new byte[PayloadRoom];
        string value = (31 + number / Probes % 37 * 0.01).ToString("0.00", CultureInfo.InvariantCulture);
        int length = MqttWire.Publish(packet, Encoding.UTF8.GetBytes($"incubation/disk/{Name(number % Probes)}/temperature"), Encoding.UTF8.GetBytes(value), (ushort)(number % 60_000 + 1));
        return probe.SendAsync(packet.AsMemory(0, length), stop);
    }

    private static async Task HearAsync(MqttPeer probe, Action answered, CancellationToken stop)
    {
        try
        {
            while (await probe.ReceiveAsync((first, _) => Count(first), stop))
            {
                // What it says is counted as it comes.
            }
        }
        catch (OperationCanceledException)
        {
            // Measured.
        }

        void Count(byte first)
        {
            if (first == MqttWire.PublishAcknowledged)
            {
                answered();
            }
        }
    }

    private static string Name(int probe) => string.Create(CultureInfo.InvariantCulture, $"disk-{probe:00}");

    private static long Written(int process) => long.Parse(
        File.ReadLines($"/proc/{process}/io").Single(line => line.StartsWith("write_bytes:", StringComparison.Ordinal)).Split(':')[1], CultureInfo.InvariantCulture);
}
