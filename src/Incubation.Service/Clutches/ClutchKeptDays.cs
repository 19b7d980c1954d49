using Incubation.Core.Readings;
using NodaTime;

namespace Incubation.Service.Clutches;

/// <summary>
/// Keeps the readings of every day on which a clutch was under way, of every probe: after a hatch that went badly the room matters as well as
/// the tub, and which probe spoke for which clutch may be corrected later.
/// </summary>
internal sealed class ClutchKeptDays(ClutchBook book) : IKeptDays
{
    // Eggs are warmed up for, and looked after a while longer than the record says.
    private static readonly Duration Around = Duration.FromDays(2);

    public bool MustKeep(SeriesKey series, Instant from, Instant to) => book.Current.Clutches.Values.Any(clutch =>
    {
        Instant laid = clutch.Clutch.Laid.Date.PlusDays(-clutch.Clutch.Laid.SlackDays).AtMidnight().InUtc().ToInstant();
        Instant begun = clutch.Stays.Select(stay => stay.From).Append(laid).Min() - Around;
        return begun < to && (clutch.FinishedAt is not { } finished || finished + Around > from);
    });
}
