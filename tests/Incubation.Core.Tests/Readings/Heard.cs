using System.Text;
using Incubation.Core.Readings;
using NodaTime;

namespace Incubation.Core.Tests.Readings;

/// <summary>A payload as the service would read it: of one probe, with what is remembered of its series.</summary>
internal static class Heard
{
    public const string Probe = "hazel-air";

    public static readonly Instant Arrived = Instant.FromUtc(2026, 11, 25, 3, 4, 10);

    public static PayloadResult Read(
        string payload, Quantity? quantity = null, ReadingMemory? previous = null, PayloadFields? fields = null, bool kept = false) =>
        Read(Encoding.UTF8.GetBytes(payload), quantity ?? Quantity.Temperature, previous, fields, kept);

    public static PayloadResult Read(
        ReadOnlySpan<byte> payload, Quantity? quantity, ReadingMemory? previous = null, PayloadFields? fields = null, bool kept = false) =>
        PayloadReader.Read(
            payload, new PayloadSource(Probe, quantity, Arrived, kept), fields ?? PayloadFields.Default,
            previous is { } last ? new Remembered(last) : Nothing);

    /// <summary>No series was ever heard.</summary>
    public static ISeriesMemory Nothing { get; } = new Remembered(null);

    /// <summary>The same of every series.</summary>
    private sealed class Remembered(ReadingMemory? last) : ISeriesMemory
    {
        public ReadingMemory? Recall(in SeriesKey series) => last;
    }
}
