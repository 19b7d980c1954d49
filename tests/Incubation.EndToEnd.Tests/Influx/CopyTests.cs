using System.Globalization;
using System.Text.Json;
using Incubation.EndToEnd.Tests.Instruments;
using Microsoft.Data.Sqlite;
using Xunit;

namespace Incubation.EndToEnd.Tests.Influx;

/// <summary>The real program, a real influxd, readings over real MQTT.</summary>
public sealed class CopyTests(ITestOutputHelper output)
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);

    [Fact(Timeout = 240_000)]
    public async Task With_influxd_away_and_the_service_killed_in_between_no_reading_is_missing_in_the_copy()
    {
        CancellationToken stop = TestContext.Current.CancellationToken;
        Needs.Program(InfluxServer.Program);
        await using InfluxServer influx = await InfluxServer.StartAsync(stop);
        await using InfluxDoor door = InfluxDoor.Before(influx);
        ServiceSetup setup = Setup(door);
        DateTimeOffset first = TimeProvider.System.GetUtcNow() - TimeSpan.FromDays(20);
        Dictionary<long, string> sent = [];

        await using (ServiceProcess service = await ServiceProcess.StartAsync(setup, stop))
        {
            await PublishAsync(service, first, 400, sent, stop);
            await ArrivedAsync(influx, sent, stop);
            await influx.StopAsync(stop);
            await PublishAsync(service, first + TimeSpan.FromDays(5), 3_000, sent, stop);
            await service.KillAsync(stop);
        }

        await using (ServiceProcess service = await ServiceProcess.StartAsync(setup, stop))
        {
            await PublishAsync(service, first + TimeSpan.FromDays(10), 1_000, sent, stop);
            await influx.StartAgainAsync(stop);
            await ArrivedAsync(influx, sent, stop);
        }

        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{sent.Count} acknowledged readings compared point by point, {door.Writes} writes"));
    }

    [Fact(Timeout = 120_000)]
    public async Task A_reading_that_influxd_refuses_is_set_aside_with_its_reason_and_the_others_arrive()
    {
        CancellationToken stop = TestContext.Current.CancellationToken;
        Needs.Program(InfluxServer.Program);
        await using InfluxServer influx = await InfluxServer.StartAsync(stop);
        await using InfluxDoor door = InfluxDoor.Before(influx);
        DateTimeOffset now = TimeProvider.System.GetUtcNow(), late = now - TimeSpan.FromDays(20);
        // Somebody else wrote whole numbers into that week; the field is an integer there for good.
        await influx.WriteAsync([string.Create(CultureInfo.InvariantCulture, $"reading,probe=other,quantity=temperature value=1i {late.ToUnixTimeMilliseconds()}")], stop);
        ServiceSetup setup = Setup(door);
        await using ServiceProcess service = await ServiceProcess.StartAsync(setup, stop);
        Dictionary<long, string> sent = [];
        await PublishAsync(service, late, 1, sent, stop, count: 1);
        Dictionary<long, string> others = [];
        await PublishAsync(service, now - TimeSpan.FromDays(2), 200, others, stop);

        await ArrivedAsync(influx, others, stop);
        // What was set aside is written down with the next readings.
        string reason = await Waiting.ForAsync(
            async () =>
            {
                await PublishAsync(service, now - TimeSpan.FromDays(1), 1, others, stop, count: 1);
                return Refused(setup.Data);
            },
            Patience, "the refused reading to be set aside", stop);

        Assert.Contains("field type conflict", reason, StringComparison.Ordinal);
        await ArrivedAsync(influx, others, stop);
        Assert.Empty((await CopiedAsync(influx, stop)).Keys.Intersect(sent.Keys));
    }

    private static ServiceSetup Setup(InfluxDoor door)
        => new() { Settings = { ["Incubation__Influx__Url"] = door.Address.ToString(), ["Incubation__Influx__Bucket"] = InfluxServer.Database } };

    /// <summary>Publishes at least so many readings, a second apart, and notes what was acknowledged: time and value.</summary>
    private static async Task PublishAsync(
        ServiceProcess service, DateTimeOffset first, int atLeast, Dictionary<long, string> sent, CancellationToken stop, int? count = null)
    {
        ReadingPayload payload = new("value", "at", first);
        if (count is { } few)
        {
            Mosquitto mosquitto = new(service.MqttPort);
            byte[] one = new byte[128];
            for (int i = 0; i < few; i++)
            {
                int length = payload.Write(i, one);
                await mosquitto.PublishAsync("incubation/hazel/hazel-air/temperature", System.Text.Encoding.UTF8.GetString(one, 0, length), stop);
                sent[payload.Milliseconds(i)] = Value(i);
            }

            return;
        }

        using CancellationTokenSource halt = new();
        using RawPublisher publisher = new("incubation/hazel/hazel-air/temperature", 20, payload.Write, keepIds: true);
        await publisher.ConnectAsync(service.MqttPort, "hazel-air", stop);
        Task running = publisher.RunAsync(halt.Token, stop);
        await Waiting.UntilAsync(() => Task.FromResult(publisher.Acknowledged >= atLeast), Patience, "the readings to be acknowledged", stop);
        await halt.CancelAsync();
        await running.WaitAsync(Patience, stop);
        foreach (long id in publisher.AcknowledgedIds)
        {
            sent[payload.Milliseconds(id)] = Value(id);
        }
    }

    // As ReadingPayload writes it.
    private static string Value(long id) => id % 10 == 0 ? "31" : string.Create(CultureInfo.InvariantCulture, $"31.{id % 10}");

    private static async Task ArrivedAsync(InfluxServer influx, Dictionary<long, string> sent, CancellationToken stop)
    {
        Dictionary<long, string> copied = [];
        await Waiting.UntilAsync(
            async () =>
            {
                copied = await CopiedAsync(influx, stop);
                return sent.Keys.All(copied.ContainsKey);
            },
            Patience, "every acknowledged reading to arrive in InfluxDB", stop);
        Assert.DoesNotContain(sent, point => copied[point.Key] != point.Value);
    }

    private static async Task<Dictionary<long, string>> CopiedAsync(InfluxServer influx, CancellationToken stop)
    {
        using JsonDocument answer = JsonDocument.Parse(await influx.QueryAsync("SELECT value FROM reading WHERE probe = 'hazel-air'", stop));
        JsonElement result = answer.RootElement.GetProperty("results")[0];
        return result.TryGetProperty("series", out JsonElement series)
            ? series[0].GetProperty("values").EnumerateArray().ToDictionary(point => point[0].GetInt64(), point => point[1].GetRawText())
            : [];
    }

    private static string? Refused(string data)
    {
        using SqliteConnection connection = new(new SqliteConnectionStringBuilder
        {
            DataSource = Path.Combine(data, "readings.db"),
            Mode = SqliteOpenMode.ReadOnly,
            Pooling = false,
        }.ToString());
        connection.Open();
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = "SELECT reason FROM copy_refused";
        return command.ExecuteScalar() as string;
    }
}
