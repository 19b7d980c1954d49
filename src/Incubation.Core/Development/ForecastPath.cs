using NodaTime;

namespace Incubation.Core.Development;

/// <summary>The clutch's temperature from laying to the end of the forecast, with what was assumed for gaps and for the days to come.</summary>
/// <param name="Path">Without gaps, °C.</param>
/// <param name="Gaps">Stretches between laying and now without readings.</param>
/// <param name="Early">Assumed before the first reading, or null when there was no such stretch.</param>
/// <param name="Later">Assumed for other gaps, or null when there was none.</param>
/// <param name="Ahead">Assumed from now on.</param>
internal sealed record ForecastPath(
    Trace Path, IReadOnlyList<Interval> Gaps, Assumption? Early, Assumption? Later, Assumption Ahead)
{
    // Less record than this says little about a clutch's usual temperature.
    private static readonly double LeastKnownDays = Duration.FromHours(12).TotalDays;

    public static ForecastPath Of(ForecastInput input)
    {
        Instant now = Instant.Max(input.Now, input.Laid);
        Trace known = input.History.Between(input.Laid, now);
        IReadOnlyList<Interval> gaps = known.Gaps(input.Laid, now);
        double? whole = known.KnownDays >= LeastKnownDays ? known.Mean(input.Laid, now) : null;
        Instant first = known.Pieces.Count > 0 ? known.Pieces[0].From : now;

        Assumption early = Pick((input.KeeperCelsius, AssumptionBasis.Keeper), (whole, AssumptionBasis.WholeRecord), input);
        Assumption later = Pick((whole, AssumptionBasis.WholeRecord), (input.KeeperCelsius, AssumptionBasis.Keeper), input);
        Trace recent = known.Between(now - input.RecentWindow, now);
        double? recentMean = recent.KnownDays >= LeastKnownDays ? recent.Mean(input.Laid, now) : null;
        Assumption ahead = Pick(
            (recentMean, AssumptionBasis.RecentMean), (input.BandMiddleCelsius, AssumptionBasis.BandMiddle), input);

        IEnumerable<Piece> filled = gaps.Select(gap =>
        {
            double celsius = gap.Start < first ? early.Celsius : later.Celsius;
            return new Piece(gap.Start, celsius, gap.End, celsius);
        });
        Instant end = input.Laid + Duration.FromDays(Limits.ForecastDays);
        IEnumerable<Piece> coming = Trace.Constant(now, end, ahead.Celsius).Pieces;
        return new ForecastPath(
            Trace.Of(known.Pieces.Concat(filled).Concat(coming)), gaps,
            gaps.Any(gap => gap.Start < first) ? early : null, gaps.Any(gap => gap.Start >= first) ? later : null, ahead);
    }

    private static Assumption Pick(
        (double? Celsius, AssumptionBasis Basis) first, (double? Celsius, AssumptionBasis Basis) second, ForecastInput input)
    {
        foreach ((double? celsius, AssumptionBasis basis) in new[]
        {
            first, second, (input.KeeperCelsius, AssumptionBasis.Keeper), (input.BandMiddleCelsius, AssumptionBasis.BandMiddle),
        })
        {
            if (celsius is { } value)
            {
                return new Assumption(value, basis);
            }
        }

        return new Assumption(input.Profile.AnchorCelsius, AssumptionBasis.Profile);
    }
}
