using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>
/// Two probes that have drifted apart. Probes in the same air or the same tub are held against how they stood when both had just been
/// placed, so that a slow drift shows; a probe in a tub and one in the air only against the week before, since eggs warm themselves.
/// With a third probe that agrees with one of the two, only the other is named. Clears when six hours are well within.
/// </summary>
internal static class TroubleDisagreement
{
    private static readonly Duration Hour = Duration.FromHours(1);

    public static IEnumerable<Trouble> Judge(
        TroubleProbe[] probes, IReadOnlyList<Trouble> standing, Func<TroubleProbe, TroubleProbe, PairPast?> past, Instant now)
    {
        List<(TroubleProbe A, TroubleProbe B, double Apart, double Usual, Instant Since)> apart = [];
        for (int i = 0; i < probes.Length; i++)
        {
            for (int j = i + 1; j < probes.Length; j++)
            {
                Trouble? before = standing.FirstOrDefault(t => t.Kind == TroubleKind.Disagrees
                    && ((t.Series.Probe == probes[i].Probe && t.Against == probes[j].Probe) || (t.Series.Probe == probes[j].Probe && t.Against == probes[i].Probe)));
                double turned = before?.Series.Probe == probes[j].Probe ? -1 : 1;
                if (Apart(probes[i], probes[j], before, turned, past, now) is { } found)
                {
                    apart.Add((probes[i], probes[j], found.Apart, found.Usual, before?.Since ?? found.Since));
                }
            }
        }

        foreach ((TroubleProbe a, TroubleProbe b, double difference, double usual, Instant since) in apart)
        {
            (bool aAlone, bool bAlone) = Alone(a, b, difference - usual, probes, past, now);
            if (!bAlone)
            {
                yield return Of(a, b, difference, usual, since, aAlone, now);
            }

            if (!aAlone)
            {
                yield return Of(b, a, -difference, -usual, since, bAlone, now);
            }
        }
    }

    // A third probe in the same air or tub that one of the two still agrees with, while the other has left it by most of the way.
    private static (bool A, bool B) Alone(
        TroubleProbe a, TroubleProbe b, double left, TroubleProbe[] probes, Func<TroubleProbe, TroubleProbe, PairPast?> past, Instant now)
    {
        (double a, double b)[] thirds =
        [
            .. probes.Where(c => c != a && c != b && c.Tub == a.Tub && c.Tub == b.Tub)
                .Select(c => (Math.Abs(Left(a, c, past, now)), Math.Abs(Left(b, c, past, now)))).Where(t => !double.IsNaN(t.Item1 + t.Item2)),
        ];
        double all = Math.Abs(left);
        return thirds.Length == 0 ? (false, false)
            : (thirds.All(t => t.a > 0.6 * all && t.b < 0.4 * all), thirds.All(t => t.b > 0.6 * all && t.a < 0.4 * all));
    }

    // How far two probes have come apart from how they stood, in the last hours; NaN when that is not known.
    private static double Left(TroubleProbe a, TroubleProbe b, Func<TroubleProbe, TroubleProbe, PairPast?> past, Instant now)
    {
        Instant end = TroubleTrack.HourOf(now);
        return (past(a, b) ?? LastWeek(a, b, end)) is { } known
            ? Robust.Median([.. Differences(a, b, end - (Hour * TroubleRules.DisagreeHours), end).Select(d => d.Value)]) - known.Difference
            : double.NaN;
    }

    private static (double Apart, double Usual, Instant Since)? Apart(
        TroubleProbe a, TroubleProbe b, Trouble? before, double turned, Func<TroubleProbe, TroubleProbe, PairPast?> past, Instant now)
    {
        Quantity quantity = a.Track.Series.Quantity;
        bool together = a.Tub == b.Tub;
        if (!together && (quantity != Quantity.Temperature || (a.Tub is not null && b.Tub is not null)))
        {
            // Two tubs, or the humidity of a tub and of the air, owe each other nothing.
            return null;
        }

        Instant end = TroubleTrack.HourOf(now);
        (Instant At, double Value)[] recent = [.. Differences(a, b, end - (Hour * TroubleRules.DisagreeHours), end)];
        if (recent.Length < TroubleRules.DisagreeHours)
        {
            return before is null ? null : (recent.Length > 0 ? recent[^1].Value : before.Reference * turned, before.Reference * turned, before.Since);
        }

        PairPast? known = together ? past(a, b) ?? LastWeek(a, b, end) : LastWeek(a, b, end);
        double usual = before is not null ? before.Reference * turned : known?.Difference ?? 0;
        double allowed = known is null && before is null ? TroubleRules.NeverAgreed(quantity)
            : together ? Math.Max(TroubleRules.Accuracy(quantity), TroubleRules.DisagreeSpreads * (known?.Spread ?? 0))
            : Math.Max(TroubleRules.AirToTub, TroubleRules.DisagreeSpreads * (known?.Spread ?? 0));
        if (before is not null)
        {
            return recent.All(d => Math.Abs(d.Value - usual) < 0.7 * allowed) ? null : (Robust.Median([.. recent.Select(d => d.Value)]), usual, before.Since);
        }

        int beyond = recent.Count(d => d.Value - usual > allowed), under = recent.Count(d => usual - d.Value > allowed);
        if (Math.Max(beyond, under) < TroubleRules.DisagreeHours - 1)
        {
            return null;
        }

        return (Robust.Median([.. recent.Select(d => d.Value)]), usual, recent.First(d => Math.Abs(d.Value - usual) > allowed).At);
    }

    private static PairPast? LastWeek(TroubleProbe a, TroubleProbe b, Instant end)
        => PairPast.Of(Differences(a, b, end - Duration.FromHours(TroubleTrack.Hours - 1), end - Duration.FromHours(TroubleRules.DisagreeHours)).Select(d => d.Value));

    private static IEnumerable<(Instant At, double Value)> Differences(TroubleProbe a, TroubleProbe b, Instant from, Instant to)
    {
        for (Instant hour = from; hour < to; hour += Hour)
        {
            if (a.Track.Hour(hour) is { } first && b.Track.Hour(hour) is { } second)
            {
                yield return (hour, first.Mean - second.Mean);
            }
        }
    }

    private static Trouble Of(TroubleProbe probe, TroubleProbe other, double difference, double usual, Instant since, bool alone, Instant now)
    {
        Quantity quantity = probe.Track.Series.Quantity;
        string Stand(double by) => Math.Abs(by) < 0.005 ? "the same"
            : $"{TroubleWords.Value(Math.Abs(by), quantity)} {(by > 0 ? "more" : "less")}";
        string advice = alone ? "The others agree, so it is this one: compare it with a reference."
            : "Which of the two is wrong the readings cannot tell: compare both with a reference, and see whether the fan runs.";
        return new Trouble(
            TroubleKind.Disagrees, probe.Track.Series, since,
            $"{probe.Name} says {Stand(difference)} than {other.Name}; it used to say {Stand(usual)}. {advice}".Replace("the same than", "the same as", StringComparison.Ordinal),
            [.. Differences(probe, other, TroubleTrack.HourOf(now) - (Hour * TroubleRules.EvidencePoints), TroubleTrack.HourOf(now))
                .Select(d => new TroublePoint(d.At, d.Value))],
            other.Probe, usual);
    }
}
