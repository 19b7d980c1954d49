using System.IO.Compression;
using System.Net;
using System.Net.Http.Headers;
using System.Text.Json;
using Incubation.Core.Readings;
using Incubation.Service.Probes;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using Xunit;

namespace Incubation.Service.Tests.Readings;

/// <summary>What goes over the wire with a history: gaps, tags, compression.</summary>
public sealed class HistoryAnswerTests
{
    private const string Topic = "incubation/hazel/hazel-air/temperature";
    private const string Range = "/api/incubators/hazel/history?from=2026-11-25T03:00:00Z&to=2026-11-25T04:00:00Z&buckets=60";

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_probe_that_fell_silent_leaves_a_gap_and_the_time_that_has_not_come_is_none()
    {
        await using IntakeHost host = await HouseAsync();
        await SendAsync(host, minutes: 20);
        host.Time.Advance(TimeSpan.FromMinutes(25));
        await SendAsync(host, minutes: 5);

        JsonElement series = Assert.Single((await host.GetAsync(
            "/api/incubators/hazel/history?from=2026-11-25T03:00:00Z&to=2026-11-25T05:00:00Z&buckets=120")).GetProperty("series").EnumerateArray());

        long start = Instant.FromUtc(2026, 11, 25, 3, 0).ToUnixTimeMilliseconds();
        long[] gap = [.. Assert.Single(series.GetProperty("gaps").EnumerateArray()).EnumerateArray().Select(v => v.GetInt64())];
        Assert.Equal([start + 20 * 60_000, start + 45 * 60_000], gap);
        Assert.Equal(25, series.GetProperty("count").GetArrayLength());
        Assert.All(series.GetProperty("count").EnumerateArray(), count => Assert.Equal(2, count.GetInt32()));
    }

    [Fact]
    public async Task A_calibration_entered_late_changes_the_tag_and_the_past()
    {
        await using IntakeHost host = await HouseAsync();
        await SendAsync(host, minutes: 60);
        host.Time.Advance(TimeSpan.FromHours(1));
        using HttpResponseMessage before = await AskAsync(host, null, null);

        host.Services.GetRequiredService<Corrections>().Become(new Dictionary<SeriesKey, Correction>
        {
            [new SeriesKey("hazel-air", Quantity.Temperature)] = new([new(Instant.FromUtc(2026, 11, 25, 3, 30), 1, 0.5)]),
        });
        using HttpResponseMessage after = await AskAsync(host, null, before.Headers.ETag);

        Assert.Equal(HttpStatusCode.OK, after.StatusCode);
        Assert.NotEqual(before.Headers.ETag, after.Headers.ETag);
        using JsonDocument json = JsonDocument.Parse(await after.Content.ReadAsByteArrayAsync(Token));
        double[] max = [.. json.RootElement.GetProperty("series")[0].GetProperty("max").EnumerateArray().Select(v => v.GetDouble())];
        Assert.Equal((31, 31.5), (max[0], max[^1]));
        using HttpResponseMessage again = await AskAsync(host, null, after.Headers.ETag);
        Assert.Equal(HttpStatusCode.NotModified, again.StatusCode);
        Assert.Equal(after.Headers.ETag, again.Headers.ETag);
    }

    [Theory]
    [InlineData("br")]
    [InlineData("gzip")]
    public async Task A_history_comes_compressed_to_whoever_takes_it_and_each_form_has_its_own_strong_tag(string encoding)
    {
        await using IntakeHost host = await HouseAsync();
        await SendAsync(host, minutes: 60);
        host.Time.Advance(TimeSpan.FromHours(1));

        using HttpResponseMessage plain = await AskAsync(host, null, null);
        using HttpResponseMessage packed = await AskAsync(host, encoding, null);

        Assert.Empty(plain.Content.Headers.ContentEncoding);
        Assert.Equal([encoding], packed.Content.Headers.ContentEncoding);
        Assert.False(packed.Headers.ETag!.IsWeak);
        Assert.NotEqual(plain.Headers.ETag, packed.Headers.ETag);
        Assert.Contains("Accept-Encoding", packed.Headers.Vary);
        CacheControlHeaderValue keeping = packed.Headers.CacheControl!;
        Assert.Equal((true, true, TimeSpan.Zero), (keeping.Private, keeping.MustRevalidate, keeping.MaxAge));
        byte[] whole = await plain.Content.ReadAsByteArrayAsync(Token), small = await packed.Content.ReadAsByteArrayAsync(Token);
        Assert.True(small.Length < whole.Length / 3, $"{small.Length} of {whole.Length} bytes");
        Assert.Equal(whole, Unpack(encoding, small));
        using HttpResponseMessage again = await AskAsync(host, encoding, packed.Headers.ETag);
        Assert.Equal(HttpStatusCode.NotModified, again.StatusCode);
    }

    [Fact]
    public async Task A_stream_of_events_is_never_compressed()
    {
        await using IntakeHost host = await HouseAsync();
        using HttpRequestMessage request = new(HttpMethod.Get, "/api/events");
        request.Headers.AcceptEncoding.ParseAdd("br, gzip");

        using HttpResponseMessage answer = await host.Http.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, Token);

        Assert.Equal("text/event-stream", answer.Content.Headers.ContentType!.MediaType);
        // "identity" is the framework's own word for "as it is".
        Assert.DoesNotContain(answer.Content.Headers.ContentEncoding, encoding => encoding != "identity");
    }

    [Fact]
    public async Task A_range_that_goes_on_is_not_kept_by_anybody()
    {
        await using IntakeHost host = await HouseAsync();

        using HttpResponseMessage answer = await host.Http.GetAsync("/api/incubators/hazel/history?from=2026-11-25T02:00:00Z&to=2026-11-25T05:00:00Z", Token);

        Assert.Null(answer.Headers.ETag);
        Assert.True(answer.Headers.CacheControl!.NoStore);
    }

    private static async Task<IntakeHost> HouseAsync()
    {
        IntakeHost host = await IntakeHost.StartAsync();
        string hazel = await host.AddIncubatorAsync("Hazel");
        await using ProbeClient probe = await ProbeClient.ConnectAsync(host);
        await probe.PublishAsync(Topic, """{"value":31,"at":"2026-11-24T03:00:00Z"}""");
        await host.PlaceAsync("hazel-air", hazel);
        return host;
    }

    // Two readings a minute, each with its own time, for so many minutes up to now.
    private static async Task SendAsync(IntakeHost host, int minutes)
    {
        await using ProbeClient probe = await ProbeClient.ConnectAsync(host);
        Instant start = Instant.FromDateTimeOffset(host.Time.GetUtcNow());
        host.Time.Advance(TimeSpan.FromMinutes(minutes));
        for (int i = 0; i < minutes * 2; i++)
        {
            await probe.PublishAsync(Topic, $$"""{"value":31,"at":"{{start + Duration.FromSeconds(30 * i)}}"}""");
        }
    }

    private static async Task<HttpResponseMessage> AskAsync(IntakeHost host, string? encoding, EntityTagHeaderValue? known)
    {
        using HttpRequestMessage request = new(HttpMethod.Get, Range);
        if (encoding is not null)
        {
            request.Headers.AcceptEncoding.ParseAdd(encoding);
        }

        if (known is not null)
        {
            request.Headers.IfNoneMatch.Add(known);
        }

        return await host.Http.SendAsync(request, Token);
    }

    private static byte[] Unpack(string encoding, byte[] packed)
    {
        using MemoryStream from = new(packed), into = new();
        using (Stream stream = encoding == "br" ? new BrotliStream(from, CompressionMode.Decompress) : new GZipStream(from, CompressionMode.Decompress))
        {
            stream.CopyTo(into);
        }

        return into.ToArray();
    }
}
