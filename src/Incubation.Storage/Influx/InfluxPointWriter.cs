using System.Globalization;
using InfluxDB.Client;
using InfluxDB.Client.Api.Domain;
using InfluxDB.Client.Core.Exceptions;

namespace Incubation.Storage.Influx;

/// <summary>Sends points and tells what was answered; it never throws for what InfluxDB says.</summary>
internal interface IPointWriter
{
    Task<WriteAnswer> WriteAsync(IReadOnlyList<string> lines, CancellationToken cancellationToken);
}

/// <summary>
/// One POST a call by the client's <c>WriteApiAsync</c>. Its batching writer keeps what waits in memory without a bound and drops what it gives
/// up on (influxdb-client-csharp #301, #478), so it isn't used.
/// </summary>
internal sealed class InfluxPointWriter : IPointWriter, IDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(30);

    private readonly InfluxSettings _settings;
    private readonly InfluxDBClient _client;
    private readonly WriteApiAsync _writes;

    public InfluxPointWriter(InfluxSettings settings, HttpMessageHandler? way = null)
    {
        _settings = settings;
        InfluxDBClientOptions options = new(settings.Url.ToString())
        {
            Org = settings.Org,
            Bucket = settings.Bucket,
            Timeout = Patience,
        };
        if (!string.IsNullOrEmpty(settings.Token))
        {
            options.Token = settings.Token;
        }

        if (way is not null)
        {
            options.HttpClient = new HttpClient(way, disposeHandler: false) { Timeout = Patience };
        }

        _client = new InfluxDBClient(options);
        if (!settings.Url.IsLoopback)
        {
            _client.EnableGzip();
        }

        _writes = _client.GetWriteApiAsync();
    }

    public async Task<WriteAnswer> WriteAsync(IReadOnlyList<string> lines, CancellationToken cancellationToken)
    {
        try
        {
            // What came back is looked at: the plain call is content with anything that is no error.
            RestSharp.RestResponse answer = await _writes.WriteRecordsAsyncWithIRestResponse(
                lines, WritePrecision.Ms, _settings.Bucket, _settings.Org, cancellationToken);
            return answer.StatusCode == 0
                ? new WriteAnswer(null, null, Words(answer.ErrorMessage ?? "the line broke"))
                : new WriteAnswer((int)answer.StatusCode, null, Words(answer.Content ?? ""));
        }
        catch (HttpException error) when (error.Status is int and > 0)
        {
            return new WriteAnswer(error.Status, error.RetryAfter is { } seconds ? TimeSpan.FromSeconds(seconds) : null, Words(error.Message));
        }
        // No answer came: the name is unknown, nobody listens, the line broke, or it took too long.
        catch (Exception error)
        {
            cancellationToken.ThrowIfCancellationRequested();
            Exception cause = error.GetBaseException();
            return new WriteAnswer(null, null, cause is OperationCanceledException or TimeoutException
                ? string.Create(CultureInfo.InvariantCulture, $"no answer within {Patience.TotalSeconds} s") : Words(cause.Message));
        }
    }

    public void Dispose() => _client.Dispose();

    private static string Words(string said)
    {
        string words = said.ReplaceLineEndings(" ").Trim().TrimEnd('.');
        return words.Length <= 300 ? words : words[..300] + "…";
    }
}
