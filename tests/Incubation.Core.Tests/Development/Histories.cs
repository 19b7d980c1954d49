using CsCheck;
using Incubation.Core.Development;
using NodaTime;

namespace Incubation.Core.Tests.Development;

/// <summary>Made-up temperature records with uneven steps and holes.</summary>
internal static class Histories
{
    public static Instant Start { get; } = Instant.FromUtc(2026, 5, 1, 12, 0);

    public static Duration Bridge { get; } = Duration.FromMinutes(90);

    /// <summary>Readings 1 to 150 minutes apart between 12 and 38 °C; steps over 90 minutes are gaps.</summary>
    public static Gen<TracePoint[]> Readings { get; } = Gen.Select(Gen.Int[1, 150], Gen.Double[12, 38]).Array[2, 80].Select(steps =>
    {
        Instant at = Start;
        return steps.Select(step => new TracePoint(at += Duration.FromMinutes(step.Item1), step.Item2)).ToArray();
    });

    public static Instant Hour(double hours) => Start + Duration.FromHours(hours);

    public static Trace Line(params (double Hour, double Value)[] points) =>
        Trace.FromReadings(points.Select(point => new TracePoint(Hour(point.Hour), point.Value)), Duration.FromDays(365));
}
