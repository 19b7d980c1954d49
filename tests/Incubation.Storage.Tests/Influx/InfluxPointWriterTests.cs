using System.Net;
using System.Net.Http.Headers;
using Incubation.Core.Readings;
using Incubation.EndToEnd.Tests.Instruments;
using Incubation.Storage.Influx;
using Incubation.Storage.Tests.Readings;
using NodaTime;
using Xunit;

namespace Incubation.Storage.Tests.Influx;

/// <summary>What the client library makes of answers; the wire is real where a server is named.</summary>
public sealed class InfluxPointWriterTests(InfluxFixture influx)
{
    private static readonly InfluxSettings Nowhere = new() { Url = new Uri("http://127.0.0.1:9"), Bucket = "b" };

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task WriteAsync_sends_one_v2_write_with_token_and_milliseconds()
    {
        Answering way = new(_ => new HttpResponseMessage(HttpStatusCode.NoContent));
        using InfluxPointWriter writer = new(new InfluxSettings { Url = new Uri("http://influx.example:8086"), Bucket = "eggs", Org = "house", Token = "sesame" }, way);

        WriteAnswer answer = await writer.WriteAsync([PointLine.Of(Some.Reading(0)), PointLine.Of(Some.Reading(1_000))], Token);

        Assert.Equal(204, answer.Status);
        HttpRequestMessage request = Assert.Single(way.Requests);
        Assert.Equal("/api/v2/write", request.RequestUri!.AbsolutePath);
        string query = request.RequestUri.Query;
        Assert.Contains("bucket=eggs", query, StringComparison.Ordinal);
        Assert.Contains("org=house", query, StringComparison.Ordinal);
        Assert.Contains("precision=ms", query, StringComparison.Ordinal);
        Assert.Equal("Token sesame", request.Headers.Authorization!.ToString());
    }

    [Theory]
    [InlineData(429)]
    [InlineData(503)]
    public async Task WriteAsync_tells_when_to_come_back(int status)
    {
        using InfluxPointWriter writer = new(Nowhere, new Answering(_ =>
        {
            HttpResponseMessage busy = new((HttpStatusCode)status) { Content = new StringContent("""{"code":"unavailable","message":"busy"}""") };
            busy.Headers.RetryAfter = new RetryConditionHeaderValue(TimeSpan.FromSeconds(7));
            return busy;
        }));

        WriteAnswer answer = await writer.WriteAsync(["x v=1"], Token);

        Assert.Equal((status, TimeSpan.FromSeconds(7)), (answer.Status, answer.RetryAfter));
    }

    [Theory]
    [InlineData(HttpStatusCode.Unauthorized, "unauthorized access")]
    [InlineData(HttpStatusCode.NotFound, "bucket \"eggs\" not found")]
    [InlineData(HttpStatusCode.RequestEntityTooLarge, "too large")]
    [InlineData(HttpStatusCode.UnprocessableEntity, "points beyond retention policy dropped=1")]
    [InlineData(HttpStatusCode.BadGateway, "bad gateway")]
    public async Task WriteAsync_gives_the_status_and_the_servers_words(HttpStatusCode status, string words)
    {
        string json = $$"""{"code":"x","message":{{System.Text.Json.JsonSerializer.Serialize(words)}}}""";
        using InfluxPointWriter writer = new(Nowhere, new Answering(_ => new HttpResponseMessage(status) { Content = new StringContent(json) }));

        WriteAnswer answer = await writer.WriteAsync(["x v=1"], Token);

        Assert.Equal(((int)status, words), (answer.Status, answer.Said));
    }

    [Fact]
    public async Task WriteAsync_nobody_listening_is_no_answer_with_the_reason()
    {
        using InfluxPointWriter writer = new(Nowhere);

        WriteAnswer answer = await writer.WriteAsync(["x v=1"], Token);

        Assert.Null(answer.Status);
        Assert.Contains("refused", answer.Said, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task WriteAsync_cancelled_is_cancelled_and_no_answer()
    {
        using CancellationTokenSource stop = new();
        await stop.CancelAsync();
        using InfluxPointWriter writer = new(Nowhere, new Answering(_ => throw new TaskCanceledException()));

        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => writer.WriteAsync(["x v=1"], stop.Token));
    }

    [Fact]
    public async Task A_real_server_refuses_a_point_of_another_type_keeps_the_others_and_knows_no_other_bucket()
    {
        InfluxServer server = await influx.ServerAsync();
        // A field's type is fixed by its first point in a shard, which is a week here: the conflict stays in that week.
        Instant week = Instant.FromUtc(2019, 5, 15, 0, 0);
        await server.WriteAsync([$"reading,probe=other,quantity=temperature value=1i {week.ToUnixTimeMilliseconds()}"], Token);
        using V1WritePath way = new();
        using InfluxPointWriter writer = new(InfluxFixture.Settings(server), way);
        Reading late = Some.Reading(0, 30, "type-late") with { At = week + Duration.FromHours(1) };

        WriteAnswer refused = await writer.WriteAsync([PointLine.Of(late), PointLine.Of(Some.Reading(0, 30, "type-new"))], Token);
        using InfluxPointWriter lost = new(new InfluxSettings { Url = server.Address, Bucket = "nowhere" }, way);
        WriteAnswer missing = await lost.WriteAsync([PointLine.Of(late)], Token);

        Assert.Equal(400, refused.Status);
        Assert.Contains("field type conflict", refused.Said, StringComparison.Ordinal);
        Assert.Contains("30", await server.QueryAsync("SELECT value FROM reading WHERE probe = 'type-new'", Token), StringComparison.Ordinal);
        Assert.Equal(404, missing.Status);
        Assert.Contains("nowhere", missing.Said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_real_server_that_finds_a_write_too_large_says_so()
    {
        InfluxServer server = await influx.ServerAsync();
        using V1WritePath way = new();
        using InfluxPointWriter writer = new(InfluxFixture.Settings(server), way);

        WriteAnswer answer = await writer.WriteAsync([.. Enumerable.Range(0, 20_000).Select(i => PointLine.Of(Some.Reading(i, 30, "large")))], Token);

        Assert.Equal(413, answer.Status);
    }
}

/// <summary>Answers without a network.</summary>
internal sealed class Answering(Func<HttpRequestMessage, HttpResponseMessage> answer) : HttpMessageHandler
{
    public List<HttpRequestMessage> Requests { get; } = [];

    protected override Task<HttpResponseMessage> SendAsync(HttpRequestMessage request, CancellationToken cancellationToken)
    {
        Requests.Add(request);
        HttpResponseMessage response = answer(request);
        response.RequestMessage ??= request;
        return Task.FromResult(response);
    }
}
