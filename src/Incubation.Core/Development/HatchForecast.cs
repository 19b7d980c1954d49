using NodaTime;

namespace Incubation.Core.Development;

/// <summary>When a clutch will pip, how far it is, and what that rests on.</summary>
/// <param name="Stage">Share of the time from laying to pip that is used up now, 0 to 1.</param>
/// <param name="DegreeDays">Degree-days above the profile's zero so far, °C·d, assumed stretches included.</param>
/// <param name="DegreeDaysAssumed">Of these, what was assumed for stretches without readings, °C·d.</param>
/// <param name="P10">By when 1 egg in 10 will have pipped, or null when no pip is to be expected.</param>
/// <param name="P50">The middle: by when half the eggs will have, or null.</param>
/// <param name="P90">By when 9 in 10 will have, or null.</param>
/// <param name="Central">When the profile's middle values alone would have it, or null.</param>
/// <param name="Gaps">Stretches between laying and now without readings, in time order.</param>
/// <param name="Early">What was assumed before the first reading, or null.</param>
/// <param name="Later">What was assumed for later gaps, or null.</param>
/// <param name="Ahead">What was assumed for the days to come.</param>
/// <param name="Profile">The profile used.</param>
/// <param name="Curve">Stage over time, past and to come.</param>
/// <param name="Spread">The whole distribution.</param>
public sealed record HatchForecast(
    double Stage, double DegreeDays, double DegreeDaysAssumed, Instant? P10, Instant? P50, Instant? P90, Instant? Central,
    IReadOnlyList<Interval> Gaps, Assumption? Early, Assumption? Later, Assumption Ahead, DevelopmentProfile Profile,
    StageCurve Curve, PipSpread Spread)
{
    /// <summary>Time between laying and now without readings.</summary>
    public Duration Unknown => Gaps.Aggregate(Duration.Zero, (sum, gap) => sum + gap.Duration);

    /// <summary>Makes the forecast.</summary>
    /// <exception cref="ArgumentException">The profile's anchor lies within 5 °C of its zero, or a spread is not positive.</exception>
    public static HatchForecast Of(ForecastInput input)
    {
        ArgumentNullException.ThrowIfNull(input);
        DevelopmentProfile profile = input.Profile;
        if (!(profile.AnchorCelsius - profile.Zero >= 5) || !(profile.AnchorDays > 0) || !(profile.WithinClutchSdDays > 0))
        {
            throw new ArgumentException(
                "A profile needs an anchor at least 5 °C above its zero, a positive duration and a positive spread within the clutch.",
                nameof(input));
        }

        ForecastPath path = ForecastPath.Of(input);
        var curve = new StageCurve(path.Path, profile.Rate);
        Instant? central = curve.Reaches(1);
        PipSpread spread = PipSpread.Of(input, path, central);
        Instant now = Instant.Max(input.Now, input.Laid);
        double all = Development.DegreeDays.Sum(path.Path.Between(input.Laid, now), profile.Zero, profile.CutOff);
        double known = Development.DegreeDays.Sum(input.History.Between(input.Laid, now), profile.Zero, profile.CutOff);
        return new HatchForecast(
            curve.At(now), all, Math.Max(0, all - known), spread.By(0.1), spread.By(0.5), spread.By(0.9), central,
            path.Gaps, path.Early, path.Later, path.Ahead, profile, curve, spread);
    }
}
