using System.Globalization;
using System.Net;
using System.Net.Http.Headers;
using Incubation.Service.Hosting;
using Polly;
using Polly.Retry;
using Polly.Timeout;

namespace Incubation.Service.Calling;

/// <summary>Posts a signed message (Standard Webhooks). At most three tries within one attempt; a redirect is not followed.</summary>
internal sealed class WebhookSender : ICallSender, IDisposable
{
    private static readonly TimeSpan Whole = TimeSpan.FromSeconds(20);
    private static readonly TimeSpan EachTry = TimeSpan.FromSeconds(6);

    private readonly ServiceClock _clock;
    private readonly ResiliencePipeline<HttpStatusCode> _pipeline;
    private readonly HttpClient _http;

    /// <param name="clock">Time.</param>
    /// <param name="trust">Another judge of certificates than the machine's; only tests have one.</param>
    public WebhookSender(ServiceClock clock, ReceiverTrust? trust = null)
    {
        var handler = new SocketsHttpHandler
        {
            AllowAutoRedirect = false,
            UseCookies = false,
            ConnectTimeout = TimeSpan.FromSeconds(5),
            PooledConnectionLifetime = TimeSpan.FromMinutes(2),
        };
        handler.SslOptions.RemoteCertificateValidationCallback = trust?.Judge;
        _http = new HttpClient(handler) { Timeout = Timeout.InfiniteTimeSpan };
        _clock = clock;
        _pipeline = new ResiliencePipelineBuilder<HttpStatusCode> { TimeProvider = clock.Provider }
            .AddTimeout(Whole)
            .AddRetry(new RetryStrategyOptions<HttpStatusCode>
            {
                MaxRetryAttempts = 2,
                Delay = TimeSpan.FromMilliseconds(250),
                BackoffType = DelayBackoffType.Exponential,
                UseJitter = true,
                ShouldHandle = new PredicateBuilder<HttpStatusCode>()
                    .Handle<HttpRequestException>().Handle<TimeoutRejectedException>().HandleResult(status => (int)status >= 500),
            })
            .AddTimeout(EachTry)
            .Build();
    }

    public string Channel => "webhook";

    public async Task<SendResult> SendAsync(OutgoingCall call, CancellationToken cancellationToken)
    {
        if (WebhookSignature.Key(call.Secret) is not { } key)
        {
            return new SendResult(false, "This webhook has no usable secret. Set one in the call-out order.", Final: true);
        }

        byte[] body = call.Message.WebhookBody(call.AnswerUrl);
        long seconds = _clock.Wall.ToUnixTimeSeconds();
        string signature = WebhookSignature.Sign(key, call.Id, seconds, body);
        try
        {
            HttpStatusCode status = await _pipeline.ExecuteAsync(
                async token => await PostAsync(call, body, seconds, signature, token), cancellationToken);
            return Judge(status);
        }
        catch (Exception error) when (error is HttpRequestException or TimeoutRejectedException or InvalidOperationException or IOException)
        {
            return new SendResult(false, error is TimeoutRejectedException ? "The receiver did not answer in time." : Failures.Words(error));
        }
    }

    public void Dispose() => _http.Dispose();

    private async Task<HttpStatusCode> PostAsync(OutgoingCall call, byte[] body, long seconds, string signature, CancellationToken token)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, call.Address) { Content = new ByteArrayContent(body) };
        request.Content.Headers.ContentType = new MediaTypeHeaderValue("application/json");
        request.Headers.Add("webhook-id", call.Id);
        request.Headers.Add("webhook-timestamp", seconds.ToString(CultureInfo.InvariantCulture));
        request.Headers.Add("webhook-signature", signature);
        using HttpResponseMessage response = await _http.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, token);
        return response.StatusCode;
    }

    // A redirect could lead a signed message anywhere; a receiver that is gone (410) or refuses the form stays so.
    private static SendResult Judge(HttpStatusCode status) => (int)status switch
    {
        >= 200 and < 300 => SendResult.Ok,
        >= 300 and < 400 => new SendResult(false, $"The receiver redirects ({(int)status}); redirects are not followed. Set its final address."),
        410 => new SendResult(false, "The receiver says this address is gone (410).", Final: true),
        _ => new SendResult(false, $"The receiver answered {(int)status}."),
    };
}
