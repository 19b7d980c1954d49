using System.Net;
using Incubation.Core.Readings;
using Incubation.Storage.Influx;
using Incubation.Storage.Tests.Readings;
using Xunit;

namespace Incubation.Storage.Tests.Influx;

/// <summary>What the archive makes of answers that are none, or only half of one.</summary>
public sealed class InfluxArchiveTests
{
    private const string Columns = "\"columns\":[\"time\",\"count\",\"sum\",\"min\",\"max\"]";

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task BucketsAsync_asks_the_query_address_for_milliseconds_and_reads_every_part()
    {
        string? asked = null;
        ReadingBuckets buckets = await AskAsync(200, $$"""
            {"results":[{"statement_id":0,"series":[{"name":"reading",{{Columns}},"values":[[{{Ms(0)}},2,61,30,31]]}]},
            {"statement_id":1,"series":[{"name":"reading",{{Columns}},"values":[[{{Ms(0)}},1,32,32,32],[{{Ms(50)}},1,33,33,33]]}]}]}
            """, new Correction([new(Some.At(20), 1, 1)]), request => asked = $"{request.RequestUri} {request.Content!.ReadAsStringAsync(Token).Result}");

        Assert.Equal([3, 1], buckets.Count);
        Assert.Equal([30d, 34], buckets.Min);
        Assert.Equal([33d, 34], buckets.Max);
        Assert.Equal([(61 + 33) / 3d, 34], buckets.Mean);
        Assert.StartsWith("http://influx.example:8086/query db=eggs&epoch=ms&q=SELECT", asked, StringComparison.Ordinal);
        Assert.Contains("autogen", asked, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(200, """{"results":[{"statement_id":0,"error":"timeout"}]}""", "timeout")]
    [InlineData(200, """{"error":"database not found: eggs"}""", "database not found: eggs")]
    [InlineData(200, """{"results":[{"statement_id":0,"series":[{"name":"reading","columns":["time","count","sum","min","max"],"values":[[0,1,1,1,1]],"partial":true}]}]}""", "cut off")]
    [InlineData(200, """{"results":[{"statement_id":0,"partial":true}]}""", "cut off")]
    [InlineData(200, """{"results":[]}""", "0 of 1")]
    [InlineData(200, """{"results":[{"statement_id":0,"series":[{"nam""", "InfluxDB")]
    [InlineData(200, "<html>a proxy</html>", "InfluxDB")]
    [InlineData(200, "[]", "not the JSON")]
    [InlineData(401, """{"error":"authorization failed"}""", "Incubation:Influx:Token")]
    [InlineData(404, """{"code":"not found","message":"no dbrp mapping found"}""", "Incubation:Influx:Database")]
    [InlineData(500, "", "500")]
    public async Task BucketsAsync_half_an_answer_is_none_and_says_why(int status, string body, string words)
    {
        ArchiveUnavailableException error = await Assert.ThrowsAsync<ArchiveUnavailableException>(() => AskAsync(status, body, Correction.None));

        Assert.Contains(words, error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task BucketsAsync_nobody_listening_has_words()
    {
        using InfluxArchive archive = new(new InfluxSettings { Url = new Uri("http://127.0.0.1:9"), Bucket = "eggs" });

        ArchiveUnavailableException error = await Assert.ThrowsAsync<ArchiveUnavailableException>(
            () => archive.BucketsAsync(Some.Series(), Some.At(0), Some.At(100), 2, Correction.None, Token));

        Assert.Contains("does not answer", error.Message, StringComparison.Ordinal);
    }

    private static async Task<ReadingBuckets> AskAsync(int status, string body, Correction correction, Action<HttpRequestMessage>? see = null)
    {
        using Answering way = new(request =>
        {
            see?.Invoke(request);
            return new HttpResponseMessage((HttpStatusCode)status) { Content = new StringContent(body) };
        });
        using InfluxArchive archive = new(new InfluxSettings { Url = new Uri("http://influx.example:8086"), Bucket = "eggs/autogen" }, way);
        return await archive.BucketsAsync(Some.Series(), Some.At(0), Some.At(100), 2, correction, Token);
    }

    private static long Ms(long ms) => Some.At(ms).ToUnixTimeMilliseconds();
}
