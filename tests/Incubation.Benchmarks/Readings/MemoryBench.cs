using System.Globalization;
using Incubation.EndToEnd.Tests.Instruments;

namespace Incubation.Benchmarks.Readings;

/// <summary>
/// A day of 200 probes at 1 Hz through the published program, over MQTT and as fast as it takes them: the readings carry times a second apart
/// that end about now. Its resident memory (<c>VmRSS</c>) at each simulated hour. Some hundred times faster than it would come, so that what a day allocates is there
/// while what time alone frees is not: real life is milder.
/// </summary>
internal static class MemoryBench
{
    private const int Probes = 200, Window = 20, Hours = 24, SecondsAnHour = 3_600;
    private const double Megabyte = 1e6;

    public static async Task MeasureAsync(Figures figures, string program, CancellationToken stop)
    {
        await using ServiceProcess service = await ServiceProcess.StartAsync(new ServiceSetup { Program = program }, stop);
        // A clock that ends a quarter of an hour ago: none of it is of the future when it is sent.
        ReadingPayload payload = new("value", "at", TimeProvider.System.GetUtcNow() - TimeSpan.FromHours(Hours + 0.25));
        using CancellationTokenSource halt = CancellationTokenSource.CreateLinkedTokenSource(stop);
        List<RawPublisher> publishers = [];
        try
        {
            for (int probe = 0; probe < Probes; probe++)
            {
                string name = string.Create(CultureInfo.InvariantCulture, $"memory-{probe:000}");
                publishers.Add(new RawPublisher($"incubation/bench/{name}/temperature", Window, payload.Write, keepIds: false));
                await publishers[^1].ConnectAsync(service.MqttPort, name, stop);
            }

            Task[] running = [.. publishers.Select(publisher => Task.Run(() => publisher.RunAsync(halt.Token, stop), stop))];
            double[] resident = new double[Hours];
            long begun = TimeProvider.System.GetTimestamp();
            for (int hour = 0; hour < Hours; hour++)
            {
                long due = (hour + 1L) * Probes * SecondsAnHour;
                await Waiting.UntilAsync(() => Task.FromResult(publishers.Sum(publisher => publisher.Acknowledged) >= due), TimeSpan.FromMinutes(10), "an hour of readings", stop);
                resident[hour] = Resident(service.Id);
            }

            double speed = Hours * (double)Probes * SecondsAnHour / TimeProvider.System.GetElapsedTime(begun).TotalSeconds;
            await halt.CancelAsync();
            await Task.WhenAll(running);
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"  memory: {Probes} probes at 1 Hz, {Hours} h at {speed:0} readings/s; MB at each hour: ")
                + string.Join(' ', resident.Select(one => one.ToString("0", CultureInfo.InvariantCulture))));
            figures.Add("readings/resident-in-a-day-of-200-probes", resident.Max(), "MB", Bound.AtMost, 200);
            figures.Add("readings/resident-growth-after-the-first-hour", Slope(resident), "MB/h", Bound.AtMost, 1);
        }
        finally
        {
            publishers.ForEach(publisher => publisher.Dispose());
        }
    }

    /// <summary>Least squares over the hours.</summary>
    private static double Slope(double[] values)
    {
        double middle = (values.Length - 1) / 2.0, mean = values.Average();
        return values.Select((value, hour) => (hour - middle) * (value - mean)).Sum() / values.Select((_, hour) => Math.Pow(hour - middle, 2)).Sum();
    }

    private static double Resident(int process) => 1024 / Megabyte * double.Parse(
        File.ReadLines($"/proc/{process}/status").Single(line => line.StartsWith("VmRSS:", StringComparison.Ordinal)).Split(' ', StringSplitOptions.RemoveEmptyEntries)[1],
        CultureInfo.InvariantCulture);
}
