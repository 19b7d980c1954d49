using System.Net;
using System.Text.Json;
using Incubation.Core.Readings;
using Incubation.EndToEnd.Tests.Instruments;
using Incubation.Service.Probes;
using Incubation.Service.Readings;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using Xunit;

namespace Incubation.Service.Tests.Readings;

/// <summary>History that is no longer here comes from a real InfluxDB; without it, what is here still comes.</summary>
public sealed class LongHistoryTests
{
    private static readonly Instant Now = Instant.FromUtc(2026, 11, 25, 3, 0);

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task Old_history_from_the_copy_and_new_history_from_here_are_one_history(bool byRetention)
    {
        Needs.Program(InfluxServer.Program);
        await using InfluxServer influx = await InfluxServer.StartAsync(Token);
        // Every minute for six days; the copy has all of it, the store only the last half, from the middle of a bucket on.
        Reading[] all = [.. Enumerable.Range(0, 6 * 1_440).Select(i => Measured(Now - Duration.FromDays(6) + Duration.FromMinutes(i), 28 + i % 97 * 0.0625))];
        Instant edge = Now - Duration.FromDays(3);
        await influx.WriteAsync(all.Select(Line), Token);
        await using IntakeHost host = await IntakeHost.StartAsync(
            services => { if (byRetention) { services.AddSingleton<IStoreReach>(new GoneBefore(edge)); } },
            options => (options.Influx.Url, options.Influx.ReadBeyondDays) = (influx.Address.ToString(), byRetention ? null : 3));
        Correction correction = new([new(Now - Duration.FromDays(5) + Duration.FromMinutes(7), 1, 0.5), new(Now - Duration.FromDays(2), 1.01, -0.25)]);
        host.Services.GetRequiredService<Corrections>().Become(new Dictionary<SeriesKey, Correction> { [all[0].Series] = correction });
        await PlacedAsync(host);
        await host.Services.GetRequiredService<IReadingStore>().StoreAsync(all.Where(r => r.At >= edge).ToArray(), Token);

        JsonElement history = await host.GetAsync($"/api/incubators/hazel/history?from={all[0].At}&to={Now}&buckets=35");

        Assert.Equal(JsonValueKind.Null, history.GetProperty("incomplete").ValueKind);
        JsonElement series = Assert.Single(history.GetProperty("series").EnumerateArray());
        Assert.Empty(series.GetProperty("gaps").EnumerateArray());
        long width = history.GetProperty("bucketMs").GetInt64();
        IGrouping<long, double>[] byHand =
        [
            .. all.GroupBy(r => (r.At - all[0].At).ToInt64Nanoseconds() / 1_000_000 / width, r => correction.Apply(r.At, r.Value)),
        ];
        Assert.Equal(byHand.Select(b => all[0].At.ToUnixTimeMilliseconds() + b.Key * width), series.GetProperty("startMs").EnumerateArray().Select(v => v.GetInt64()));
        Assert.Equal(byHand.Select(b => b.Count()), series.GetProperty("count").EnumerateArray().Select(v => v.GetInt32()));
        Assert.Equal(byHand.Select(b => b.Min()), Numbers(series, "min"));
        Assert.Equal(byHand.Select(b => b.Max()), Numbers(series, "max"));
        Assert.All(byHand.Zip(Numbers(series, "mean")), pair => Assert.Equal(pair.First.Average(), pair.Second, 1e-9));
    }

    [Fact]
    public async Task Without_the_copy_what_is_here_comes_and_the_answer_says_what_is_missing()
    {
        await using IntakeHost host = await IntakeHost.StartAsync(
            settings: options => (options.Influx.Url, options.Influx.ReadBeyondDays) = ("http://127.0.0.1:9", 1));
        await PlacedAsync(host);
        await host.Services.GetRequiredService<IReadingStore>().StoreAsync(
            new[] { Measured(Now - Duration.FromDays(3), 30), Measured(Now - Duration.FromHours(1), 31) }, Token);

        using HttpResponseMessage answer = await host.Http.GetAsync($"/api/incubators/hazel/history?from={Now - Duration.FromDays(4)}&to={Now}&buckets=100", Token);
        using JsonDocument json = JsonDocument.Parse(await answer.Content.ReadAsByteArrayAsync(Token));

        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.Null(answer.Headers.ETag);
        Assert.True(answer.Headers.CacheControl!.NoStore);
        Assert.Contains("InfluxDB does not answer", json.RootElement.GetProperty("incomplete").GetString(), StringComparison.Ordinal);
        JsonElement series = Assert.Single(json.RootElement.GetProperty("series").EnumerateArray());
        Assert.Equal([31d], Numbers(series, "mean"));
        Assert.Empty(series.GetProperty("gaps").EnumerateArray());

        JsonElement recent = await host.GetAsync($"/api/incubators/hazel/history?from={Now - Duration.FromHours(20)}&to={Now}&buckets=100");
        Assert.Equal(JsonValueKind.Null, recent.GetProperty("incomplete").ValueKind);
    }

    [Fact]
    public async Task The_state_of_the_copy_says_how_far_behind_it_is_and_why()
    {
        await using IntakeHost host = await IntakeHost.StartAsync(settings: options => options.Influx.Url = "http://127.0.0.1:9");
        await host.Services.GetRequiredService<IReadingStore>().StoreAsync(new[] { Measured(Now, 31) }, Token);
        Copies copies = host.Services.GetRequiredService<Copies>();
        await Eventually.True(
            () =>
            {
                host.Time.Advance(TimeSpan.FromSeconds(1));
                return copies.View()?.State == "away";
            },
            "the copy finds nobody listening");

        CopyStateView view = copies.View()!;
        Assert.Equal(("InfluxDB", 1, 0, Now), (view.Kind, view.Behind, view.Refused, view.OldestWaiting));
        Assert.Contains("1 reading waits to be copied", view.Words, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Without_settings_there_is_no_copy_and_no_worker_for_it()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();

        Assert.Null(host.Services.GetRequiredService<Copies>().View());
        Assert.DoesNotContain(host.Services.GetServices<Microsoft.Extensions.Hosting.IHostedService>(), service => service is CopyWorker);
    }

    private static Reading Measured(Instant at, double value) => new(new SeriesKey("hazel-air", Quantity.Temperature), value, at, at, ReadingMarks.None);

    private static string Line(Reading reading) => FormattableString.Invariant(
        $"reading,probe={reading.Series.Probe},quantity={reading.Series.Quantity} value={reading.Value:R},good=1,marks=0 {reading.At.ToUnixTimeMilliseconds()}");

    private static IEnumerable<double> Numbers(JsonElement series, string column) => series.GetProperty(column).EnumerateArray().Select(v => v.GetDouble());

    private static async Task PlacedAsync(IntakeHost host)
    {
        string hazel = await host.AddIncubatorAsync("Hazel");
        await using ProbeClient probe = await ProbeClient.ConnectAsync(host);
        await probe.PublishAsync("incubation/hazel/hazel-air/humidity", "80");
        using HttpResponseMessage answer = await host.PostAsync("/api/probes/hazel-air/placements", new { incubator = hazel, where = "air", from = "2026-11-01T00:00:00Z" });
        Assert.Equal(HttpStatusCode.Created, answer.StatusCode);
    }

    private sealed class GoneBefore(Instant edge) : IStoreReach
    {
        public IReadOnlyList<Interval> Gone(SeriesKey series, Instant from, Instant to)
            => from < edge ? [new Interval(from, Instant.Min(edge, to))] : [];
    }
}
