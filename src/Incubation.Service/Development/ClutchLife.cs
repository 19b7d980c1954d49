using Incubation.Core.Clutches;
using Incubation.Service.Clutches;
using NodaTime;

namespace Incubation.Service.Development;

/// <summary>From when to when a clutch's life is told.</summary>
/// <param name="Laid">Instant that sums begin at: the middle of the lay date.</param>
/// <param name="End">Last outcome of a finished clutch, or when it was called finished; now for any other.</param>
/// <param name="Over">Whether it is finished.</param>
internal readonly record struct ClutchLife(Instant Laid, Instant End, bool Over)
{
    public static ClutchLife Of(BookedClutch clutch, DateTimeZone zone, Instant now)
    {
        Instant laid = ClutchDay.AssumedLaying(clutch.Clutch.Laid.Date, zone);
        if (clutch.FinishedAt is not { } finished)
        {
            return new ClutchLife(laid, Instant.Max(now, laid), false);
        }

        Instant? last = clutch.Outcomes.Where(outcome => outcome.Stands).Select(outcome => (Instant?)outcome.Outcome.At).Max();
        return new ClutchLife(laid, Instant.Max(laid, Instant.Min(last ?? finished, now)), true);
    }
}
