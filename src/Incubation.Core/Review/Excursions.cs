using Incubation.Core.Development;
using NodaTime;

namespace Incubation.Core.Review;

/// <summary>The limits that held for a while, in the quantity's unit; null where there is none.</summary>
/// <param name="From">Start, inclusive.</param>
/// <param name="Until">End, exclusive.</param>
/// <param name="Low">Out of band below this.</param>
/// <param name="High">Out of band above this.</param>
public readonly record struct BandSpan(Instant From, Instant Until, double? Low, double? High);

/// <summary>On which side of the band.</summary>
public enum Side
{
    /// <summary>Above its upper limit.</summary>
    Above,

    /// <summary>Below its lower limit.</summary>
    Below,
}

/// <summary>A stretch out of band.</summary>
/// <param name="Side">Above or below.</param>
/// <param name="From">When it left the band, or when the record began out of it.</param>
/// <param name="Until">When it came back, or when the record ended out of it.</param>
/// <param name="Peak">Furthest value beyond the limit.</param>
/// <param name="PeakAt">When that was first reached.</param>
/// <param name="DegreeHours">Area beyond the limit, °C·h (%RH·h for humidity).</param>
/// <param name="OpenStart">Whether it was out already when the record began: it may have been longer.</param>
/// <param name="OpenEnd">Whether it was still out when the record ended: it may have been longer.</param>
public sealed record Excursion(
    Side Side, Instant From, Instant Until, double Peak, Instant PeakAt, double DegreeHours, bool OpenStart, bool OpenEnd)
{
    /// <summary>Length.</summary>
    public Duration Length => Until - From;
}

/// <summary>How long and how far a clutch was out of band over what is known; adds up over stretches of time.</summary>
/// <param name="KnownHours">Hours that are known and had a band.</param>
/// <param name="HoursAbove">Hours above the band.</param>
/// <param name="DegreeHoursAbove">Area above it, °C·h.</param>
/// <param name="HoursBelow">Hours below the band.</param>
/// <param name="DegreeHoursBelow">Area below it, °C·h.</param>
public readonly record struct Exposure(
    double KnownHours, double HoursAbove, double DegreeHoursAbove, double HoursBelow, double DegreeHoursBelow)
{
    /// <summary>Sum of two stretches that do not overlap.</summary>
    public static Exposure operator +(Exposure a, Exposure b) => new(
        a.KnownHours + b.KnownHours, a.HoursAbove + b.HoursAbove, a.DegreeHoursAbove + b.DegreeHoursAbove,
        a.HoursBelow + b.HoursBelow, a.DegreeHoursBelow + b.DegreeHoursBelow);

    /// <summary>Sum, for languages without operators.</summary>
    public static Exposure Add(Exposure left, Exposure right) => left + right;

    /// <summary>Exposure of a trace to the bands that held.</summary>
    /// <param name="trace">What is known.</param>
    /// <param name="bands">Limits over time, not overlapping.</param>
    public static Exposure Of(Trace trace, IReadOnlyList<BandSpan> bands)
    {
        ArgumentNullException.ThrowIfNull(trace);
        ArgumentNullException.ThrowIfNull(bands);
        var sum = default(Exposure);
        foreach (OutPart part in OutParts.Of(trace, bands))
        {
            double hours = (part.Line.Until - part.Line.From).TotalHours;
            sum += part.Side switch
            {
                Side.Above => new Exposure(hours, hours, part.DegreeHours, 0, 0),
                Side.Below => new Exposure(hours, 0, 0, hours, part.DegreeHours),
                _ => new Exposure(hours, 0, 0, 0, 0),
            };
        }

        return sum;
    }
}

/// <summary>Finds stretches out of band; crossings are taken exactly on the straight line between readings.</summary>
public static class Excursions
{
    /// <summary>All stretches out of band, in time order.</summary>
    /// <param name="trace">What is known.</param>
    /// <param name="bands">Limits over time, not overlapping.</param>
    /// <param name="joinWithin">
    /// Stretches of one side that are no further apart than this, with readings in between, are told as one; its degree-hours
    /// remain the area beyond the limit alone. Zero tells each by itself.
    /// </param>
    public static IReadOnlyList<Excursion> Find(Trace trace, IReadOnlyList<BandSpan> bands, Duration joinWithin = default)
    {
        ArgumentNullException.ThrowIfNull(trace);
        ArgumentNullException.ThrowIfNull(bands);
        var found = new List<Excursion>();
        // Instants up to which the record is known without a hole, for joining.
        Instant knownSince = Instant.MinValue;
        Instant knownUntil = Instant.MinValue;
        var last = new Dictionary<Side, int>();
        foreach (OutPart part in OutParts.Of(trace, bands))
        {
            if (part.Line.From > knownUntil)
            {
                knownSince = part.Line.From;
            }

            knownUntil = part.Line.Until;
            if (part.Side is not { } side)
            {
                continue;
            }

            Excursion next = One(part, side);
            if (last.TryGetValue(side, out int index) && found[index].Until >= knownSince
                && next.From - found[index].Until <= joinWithin)
            {
                found[index] = Joined(found[index], next);
            }
            else
            {
                last[side] = found.Count;
                found.Add(next);
            }
        }

        return found;
    }

    private static Excursion One(OutPart part, Side side)
    {
        Piece line = part.Line;
        bool startIsPeak = side == Side.Above ? line.FromValue >= line.UntilValue : line.FromValue <= line.UntilValue;
        return new Excursion(
            side, line.From, line.Until, startIsPeak ? line.FromValue : line.UntilValue, startIsPeak ? line.From : line.Until,
            part.DegreeHours, !part.StartsAtLimit, !part.EndsAtLimit);
    }

    private static Excursion Joined(Excursion first, Excursion next)
    {
        bool further = first.Side == Side.Above ? next.Peak > first.Peak : next.Peak < first.Peak;
        return first with
        {
            Until = next.Until,
            Peak = further ? next.Peak : first.Peak,
            PeakAt = further ? next.PeakAt : first.PeakAt,
            DegreeHours = first.DegreeHours + next.DegreeHours,
            OpenEnd = next.OpenEnd,
        };
    }
}
