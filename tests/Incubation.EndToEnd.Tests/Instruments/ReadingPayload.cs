using System.Globalization;

namespace Incubation.EndToEnd.Tests.Instruments;

/// <summary>Payloads that carry their own time, some seconds apart, so that every message is a reading of its own.</summary>
internal sealed class ReadingPayload(string valueField, string timeField, DateTimeOffset first, int secondsApart = 1)
{
    private readonly long _firstSecond = first.ToUnixTimeSeconds();

    /// <summary>Unix milliseconds that the message says, by which its row is found again.</summary>
    public long Milliseconds(long message) => (_firstSecond + (message * secondsApart)) * 1000;

    /// <summary>31.0 to 31.9 °C: in band, and never the same twice running.</summary>
    public int Write(long message, Span<byte> into)
    {
        DateTimeOffset at = DateTimeOffset.FromUnixTimeSeconds(_firstSecond + (message * secondsApart));
        return System.Text.Unicode.Utf8.TryWrite(into, CultureInfo.InvariantCulture,
            $"{{\"{valueField}\":31.{message % 10},\"{timeField}\":\"{at:yyyy-MM-ddTHH:mm:ss}Z\"}}", out int written)
            ? written
            : throw new InvalidOperationException("The payload is longer than its buffer.");
    }
}
