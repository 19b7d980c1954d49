using System.Globalization;
using Incubation.Core.FirstScreen;
using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>
/// Judges an incubator that is tried out before eggs go in: how steady, how even, how soon it recovers. Pure, so that a run-in of last
/// spring is judged alike today. The warming-up at its start is shown and counts for no verdict.
/// </summary>
public static class RunInJudge
{
    /// <summary>The judgement at a moment.</summary>
    /// <param name="series">What the probes placed in it measured over [from, until).</param>
    /// <param name="limits">The warning limits that hold for a quantity.</param>
    /// <param name="from">When it began.</param>
    /// <param name="until">Up to when it is judged: now, or when it was ended or done.</param>
    public static RunInJudgement Judge(IReadOnlyList<RunInSeries> series, Func<Quantity, RunInLimits> limits, Instant from, Instant until)
    {
        double hours = Math.Clamp((until - from).TotalHours, 0, RunInRules.Hours);
        Instant settled = from + Duration.FromHours(Math.Min(RunInRules.WarmUpHours, hours / 2));
        RunInSteadiness[] steadiness =
        [
            .. series.Where(s => s.Buckets.Count.Count > 0).Select(s => RunInFigures.Steadiness(s, limits(s.Series.Quantity), settled, until)).OfType<RunInSteadiness>(),
        ];
        RunInSeries[] warm = [.. series.Where(s => s.Series.Quantity == Quantity.Temperature && s.Buckets.Count.Count > 0)];
        RunInSpot[] spots = [.. RunInFigures.Spots(warm, settled).OrderByDescending(spot => spot.Difference)];
        List<string> wrong = [.. Reasons(series, steadiness, spots)];
        List<string> seen = [.. warm.Select(s => RunInFigures.Recovery(s, settled)).OfType<(string Words, bool TooSlow)>().Select(r => r.Words)];
        wrong.AddRange(warm.Select(s => RunInFigures.Recovery(s, settled)).OfType<(string Words, bool TooSlow)>().Where(r => r.TooSlow).Select(r => r.Words));
        seen.AddRange(steadiness.Where(s => s.Series.Quantity == Quantity.Temperature && s.Cycle >= RunInRules.Steady)
            .Select(s => $"The thermostat's cycle shows at {Name(series, s.Series)}: {Figure(s.Cycle)} °C from least to most within an hour."));
        if (warm.Length == 1)
        {
            seen.Add("With one probe nothing is known of hot and cold spots. A second one, at another height, would tell.");
        }

        string[] findings = [.. wrong.Concat(seen).Distinct()];
        return hours < RunInRules.Hours
            ? new RunInJudgement(
                RunInVerdict.TooEarly,
                $"Too early: {Spoken.Length(Duration.FromHours(hours))} of {RunInRules.Hours} hours." + (hours < 1 ? "" : wrong.Count > 0 ? $" So far: {wrong[0]}" : " So far nothing speaks against it."),
                hours, steadiness, spots, findings)
            : wrong.Count > 0
                ? new RunInJudgement(RunInVerdict.NotReady, $"Not ready: {wrong[0]}", hours, steadiness, spots, findings)
                : new RunInJudgement(RunInVerdict.Ready, "Ready for eggs: steady and even over two days.", hours, steadiness, spots, findings);
    }

    private static IEnumerable<string> Reasons(IReadOnlyList<RunInSeries> series, RunInSteadiness[] steadiness, RunInSpot[] spots)
    {
        if (!steadiness.Any(s => s.Series.Quantity == Quantity.Temperature))
        {
            yield return "No probe in it has sent a temperature.";
        }

        foreach (RunInSteadiness one in steadiness)
        {
            string name = Name(series, one.Series);
            bool temperature = one.Series.Quantity == Quantity.Temperature;
            if (temperature && one.KnownShare < RunInRules.Known)
            {
                yield return $"{name} was heard only {Share(one.KnownShare)} of the time.";
            }

            if (one.InBandShare < (temperature ? RunInRules.TemperatureInBand : RunInRules.HumidityInBand))
            {
                yield return $"{name} was in band only {Share(one.InBandShare.Value)} of the time ({one.Series.Quantity.Name} from {Figure(one.Least)} to {Figure(one.Most)}).";
            }

            if (temperature && one.Deviation > RunInRules.Steady)
            {
                yield return $"{name} wanders: its deviation is {Figure(one.Deviation)} °C, more than {Figure(RunInRules.Steady)} °C.";
            }
        }

        if (spots.Length > 1 && spots[0].Difference - spots[^1].Difference > RunInRules.Even)
        {
            yield return $"It is uneven: {Where(spots[0])} is {Figure(spots[0].Difference - spots[^1].Difference)} °C warmer than {Where(spots[^1])}.";
        }
    }

    private static string Where(RunInSpot spot) => spot.Where.Length > 0 ? spot.Where : spot.Probe;

    private static string Name(IReadOnlyList<RunInSeries> series, SeriesKey key) => series.First(s => s.Series == key).Name;

    private static string Figure(double value) => value.ToString("0.0#", CultureInfo.InvariantCulture);

    // Rounded down: 96.9 % is not the 97 % that was asked for.
    private static string Share(double share) => Math.Floor(share * 100).ToString("0", CultureInfo.InvariantCulture) + " %";
}
