using System.Globalization;
using System.Text.Json;
using NodaTime;
using NodaTime.Serialization.SystemTextJson;

namespace Incubation.Service.Calling;

/// <summary>What a webhook's body says about the alarm.</summary>
internal sealed record CallData(
    Guid Occurrence, string? Incubator, string IncubatorName, string? Probe, string? Quantity, string? Unit, string Condition, string Severity,
    string State, double? Value, double? Limit, Instant RaisedAt, string Words, string? AnswerUrl);

/// <summary>What is said in one call. Kept with the call; the answer link is not, since only its hash may be.</summary>
/// <param name="Type"><c>alarm.raised</c>, <c>alarm.returned</c> or <c>test</c>.</param>
/// <param name="Timestamp">When the call was made.</param>
/// <param name="Line">One line, for a subject.</param>
/// <param name="Data">The alarm.</param>
internal sealed record CallMessage(string Type, Instant Timestamp, string Line, CallData Data)
{
    public const string Raised = "alarm.raised";
    public const string Returned = "alarm.returned";
    public const string Test = "test";

    private static readonly JsonSerializerOptions Options =
        new JsonSerializerOptions(JsonSerializerDefaults.Web).ConfigureForNodaTime(DateTimeZoneProviders.Tzdb);

    public string Json() => JsonSerializer.Serialize(this, Options);

    public static CallMessage? Parse(string json)
    {
        try
        {
            return JsonSerializer.Deserialize<CallMessage>(json, Options);
        }
        catch (JsonException)
        {
            return null;
        }
    }

    /// <summary>Body of a webhook, with the link by which it can be answered.</summary>
    public byte[] WebhookBody(string? answerUrl)
        => JsonSerializer.SerializeToUtf8Bytes(new { Type, Timestamp, Data = Data with { AnswerUrl = answerUrl } }, Options);

    /// <summary>The same for the same call after a crash, so that a receiver can tell it from a new one.</summary>
    public static string Id(Guid occurrence, Guid step, int round, bool back)
        => string.Create(CultureInfo.InvariantCulture, $"call_{occurrence:N}_{step:N}_{(back ? "back" : "")}{round}");
}

/// <summary>One call with everything a sender needs.</summary>
internal sealed record OutgoingCall(string Id, Guid Occurrence, string Who, string Address, string? Secret, CallMessage Message, string? AnswerUrl);

/// <summary>What came of one attempt.</summary>
/// <param name="Delivered">Whether the other side took it.</param>
/// <param name="Error">What went wrong, without secrets.</param>
/// <param name="Final">Whether trying again can't help.</param>
internal sealed record SendResult(bool Delivered, string? Error = null, bool Final = false)
{
    public static SendResult Ok { get; } = new(true);
}

/// <summary>Judges the certificate of a receiver in place of the machine's own judgement. Not registered outside tests.</summary>
internal sealed record ReceiverTrust(System.Net.Security.RemoteCertificateValidationCallback Judge);

/// <summary>Errors of the network in words for the journal: one line, the innermost cause, of bounded length.</summary>
internal static class Failures
{
    /// <summary>A server may answer with a book; a line of the journal needs its first sentence.</summary>
    private const int Longest = 300;

    public static string Words(Exception error)
    {
        if (Find<System.Security.Authentication.AuthenticationException>(error) is not null || Find<MailKit.Security.SslHandshakeException>(error) is not null)
        {
            return "No safe connection: the certificate of the other side is not trusted, or it speaks no TLS here. "
                + Line(Find<System.Security.Authentication.AuthenticationException>(error)?.Message ?? "");
        }

        return Line(error is HttpRequestException { InnerException: { } inner } ? inner.Message : error.Message);
    }

    private static T? Find<T>(Exception? error) where T : Exception
    {
        while (error is not null and not T)
        {
            error = error.InnerException;
        }

        return error as T;
    }

    private static string Line(string text)
    {
        string line = string.Join(' ', text.Split(['\r', '\n', '\t'], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries));
        line = string.Concat(line.Where(c => !char.IsControl(c)));
        return line.Length > Longest ? line[..Longest] + "…" : line;
    }
}

/// <summary>One channel: makes one attempt and never throws, except when it is cancelled.</summary>
internal interface ICallSender
{
    string Channel { get; }

    Task<SendResult> SendAsync(OutgoingCall call, CancellationToken cancellationToken);
}
