using System.Net;
using System.Net.Http.Headers;
using System.Text.Json;
using Incubation.Core;
using Incubation.Core.Readings;
using Incubation.Storage.Readings.Queries;
using Incubation.Storage.Readings.Rollups;
using NodaTime;

namespace Incubation.Storage.Influx;

/// <summary>
/// Reads long history from InfluxDB by InfluxQL over <c>/query</c>, which the client library has no call for. What lies there is as measured; a
/// stretch between two calibrations is corrected whole, for a positive slope keeps least and greatest where they are.
/// </summary>
public sealed class InfluxArchive : IReadingArchive, IDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(30);

    private readonly InfluxSettings _settings;
    private readonly HttpClient _http;

    /// <summary>An archive on a server.</summary>
    public InfluxArchive(InfluxSettings settings) : this(settings, new SocketsHttpHandler { AutomaticDecompression = DecompressionMethods.GZip }) { }

    internal InfluxArchive(InfluxSettings settings, HttpMessageHandler way)
    {
        _settings = settings;
        _http = new HttpClient(way) { BaseAddress = settings.Url, Timeout = Patience };
        if (!string.IsNullOrEmpty(settings.Token))
        {
            _http.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Token", settings.Token);
        }
    }

    /// <inheritdoc/>
    public async Task<ReadingBuckets> BucketsAsync(
        SeriesKey series, Instant from, Instant to, int buckets, Correction correction, CancellationToken cancellationToken)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(buckets, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(buckets, Limits.HistoryBuckets);
        if (to <= from)
        {
            throw new ArgumentException("A history needs an end after its start.", nameof(to));
        }

        BucketSums sums = new(from.ToUnixTimeMilliseconds(), to.ToUnixTimeMilliseconds(), buckets, correction);
        List<Interval> stretches = Stretches(from, to, correction);
        (string database, string? policy) = _settings.Read;
        string question = InfluxQl.Buckets(policy, series, stretches, sums.From, sums.WidthMs);
        List<List<ArchiveRow>> answers = await AskAsync(database, question, stretches.Count, cancellationToken);
        for (int i = 0; i < stretches.Count; i++)
        {
            // A row is named by the start of its bucket, which may lie before its stretch; a moment of the stretch finds its correction.
            long first = BucketSums.CeilingMs(stretches[i].Start);
            foreach (ArchiveRow row in answers[i])
            {
                sums.Add(Math.Max(row.StartMs, first), new RollupSum(row.Count, row.Sum, row.Least, row.Greatest));
            }
        }

        return sums.Columns();
    }

    /// <inheritdoc/>
    public void Dispose() => _http.Dispose();

    /// <summary>The span, cut where the correction changes.</summary>
    internal static List<Interval> Stretches(Instant from, Instant to, Correction correction)
    {
        List<Interval> stretches = [];
        Instant start = from;
        foreach (CorrectionPiece next in correction.Pieces.Where(piece => piece.From > from && piece.From < to))
        {
            stretches.Add(new Interval(start, next.From));
            start = next.From;
        }

        stretches.Add(new Interval(start, to));
        return stretches;
    }

    private async Task<List<List<ArchiveRow>>> AskAsync(string database, string question, int statements, CancellationToken cancellationToken)
    {
        try
        {
            using FormUrlEncodedContent form = new([new("db", database), new("epoch", "ms"), new("q", question)]);
            using HttpResponseMessage answer = await _http.PostAsync(new Uri("query", UriKind.Relative), form, cancellationToken);
            byte[] body = await answer.Content.ReadAsByteArrayAsync(cancellationToken);
            if (!answer.IsSuccessStatusCode)
            {
                throw new ArchiveUnavailableException(Words(answer.StatusCode, Said(body)));
            }

            using JsonDocument json = JsonDocument.Parse(body);
            return InfluxQlAnswer.Read(json.RootElement, statements);
        }
        catch (Exception error) when (error is FormatException or JsonException)
        {
            throw new ArchiveUnavailableException($"Long history can't be read from InfluxDB: {error.Message}.", error);
        }
        catch (HttpRequestException error)
        {
            throw new ArchiveUnavailableException($"Long history can't be read: InfluxDB does not answer ({error.GetBaseException().Message}). It is asked again with the next look.", error);
        }
        catch (OperationCanceledException error) when (!cancellationToken.IsCancellationRequested)
        {
            throw new ArchiveUnavailableException($"Long history can't be read: InfluxDB gave no answer within {Patience.TotalSeconds:0} s. Ask for a shorter time.", error);
        }
    }

    private static string Words(HttpStatusCode status, string said) => status switch
    {
        HttpStatusCode.Unauthorized or HttpStatusCode.Forbidden =>
            $"Long history can't be read: InfluxDB refuses the token ({said}). Set Incubation:Influx:Token to one that may read this bucket.",
        HttpStatusCode.NotFound =>
            $"Long history can't be read: InfluxDB knows no such database ({said}). Set Incubation:Influx:Database, and map it to the bucket for InfluxQL.",
        _ => $"Long history can't be read: InfluxDB answered {(int)status} ({said}).",
    };

    private static string Said(byte[] body)
    {
        try
        {
            using JsonDocument json = JsonDocument.Parse(body);
            return json.RootElement.TryGetProperty("error", out JsonElement error) || json.RootElement.TryGetProperty("message", out error) ? error.ToString() : "no words";
        }
        catch (Exception problem) when (problem is JsonException or InvalidOperationException)
        {
            return "no words";
        }
    }
}
