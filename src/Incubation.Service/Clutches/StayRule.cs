using NodaTime;

namespace Incubation.Service.Clutches;

/// <summary>One stay in a place, open at its end while it lasts.</summary>
internal readonly record struct Stay(string Place, Instant From, Instant? Until);

/// <summary>How a new stay fits behind, or before, the ones on record.</summary>
/// <param name="Nothing">It is there already: a second tap.</param>
/// <param name="From">When it begins.</param>
/// <param name="Until">When it ends, for one that is put before all others; null lasts.</param>
/// <param name="Refused">Why it does not fit, or null.</param>
internal readonly record struct StayFit(bool Nothing, Instant From, Instant? Until, string? Refused);

/// <summary>
/// A thing is in one place at a time, and what is on record stays: a move ends the stay that lasts and begins the next; a time
/// before the first stay adds what was not known; a time in between would rewrite where it was, and is refused with words.
/// </summary>
internal static class StayRule
{
    private static readonly Duration Least = Duration.FromMilliseconds(1);

    /// <param name="stays">Stays on record.</param>
    /// <param name="place">Where it is put.</param>
    /// <param name="from">Since when, or null for now.</param>
    /// <param name="now">Now.</param>
    /// <param name="name">What a place is called.</param>
    /// <param name="spoken">A moment in words.</param>
    public static StayFit Fit(
        IReadOnlyList<Stay> stays, string place, Instant? from, Instant now, Func<string, string> name, Func<Instant, string> spoken)
    {
        if (stays.Count == 0)
        {
            return new StayFit(false, from ?? now, null, null);
        }

        Stay last = stays.MaxBy(stay => stay.From);
        if (last.Until is null && last.Place == place && (from is null || from == last.From))
        {
            return new StayFit(true, last.From, null, null);
        }

        Instant first = stays.Min(stay => stay.From);
        if (from < first)
        {
            return new StayFit(false, from.Value, first, null);
        }

        Instant earliest = last.Until ?? (last.From + Least);
        if (from < earliest)
        {
            return new StayFit(false, default, null,
                $"On record it was in {name(last.Place)} from {spoken(last.From)}{(last.Until is { } end ? $" to {spoken(end)}" : " on")}. "
                + $"Enter a time after {spoken(earliest)}, or one before {spoken(first)}, when nothing is on record yet.");
        }

        return new StayFit(false, from ?? Instant.Max(now, earliest), null, null);
    }
}
