using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>Scatter that has grown against the probe's own past at the same interval, while the others' has not. Clears at half.</summary>
internal static class TroubleNoise
{
    private const int HoursNow = 3, FewestBefore = 18;

    // Hours without a full batch (a probe that sends seldom) are no hours; so far back the newest three may lie.
    private static readonly Duration Recent = Duration.FromHours(12);

    public static Trouble? Judge(TroubleProbe probe, TroubleProbe[] others, Trouble? before, Instant now)
    {
        Quantity quantity = probe.Track.Series.Quantity;
        (Instant Hour, double Scatter, double IntervalSeconds)[] recent = Newest(probe.Track, now);
        if (before is not null)
        {
            bool over = recent.Length == HoursNow && recent.Skip(1).All(h => h.Scatter < TroubleRules.NoiseTimes / 2 * before.Reference);
            return over ? null : before;
        }

        if (recent.Length < HoursNow || Growth(probe.Track, recent) is not { } grown)
        {
            return null;
        }

        double least = recent.Min(h => h.Scatter);
        double floor = Math.Max(TroubleRules.NoiseAtLeast(quantity), probe.Track.Stillness.Step);
        if (grown.Times < TroubleRules.NoiseTimes || least < floor || others.Any(o => Growth(o.Track, Newest(o.Track, now))?.Times >= 2))
        {
            return null;
        }

        double reference = Math.Max(grown.Past, floor / TroubleRules.NoiseTimes);
        return new Trouble(
            TroubleKind.Noise, probe.Track.Series, recent[0].Hour,
            $"The values of {probe.Name} scatter by {TroubleWords.Value(least, quantity)}, {TroubleWords.Times(least / reference)} what they did before. "
            + "Moisture in a joint, a long cable or a bad supply does that.",
            [.. probe.Track.Scatter.Over(now - Duration.FromHours(TroubleRules.EvidencePoints), now).Select(h => new TroublePoint(h.Hour, h.Scatter))],
            null, reference);
    }

    private static (Instant Hour, double Scatter, double IntervalSeconds)[] Newest(TroubleTrack track, Instant now)
        => [.. track.Scatter.Over(now - Recent, now).TakeLast(HoursNow)];

    // Against the older half of what is known at this interval, so that a scatter that has been there for days still shows.
    private static (double Times, double Past)? Growth(TroubleTrack track, (Instant Hour, double Scatter, double IntervalSeconds)[] recent)
    {
        if (recent.Length < HoursNow)
        {
            return null;
        }

        double interval = recent[^1].IntervalSeconds;
        double[] known =
        [
            .. track.Scatter.Over(Instant.MinValue + Duration.FromDays(1), recent[0].Hour)
                .Where(h => h.IntervalSeconds < 1.5 * interval && interval < 1.5 * h.IntervalSeconds).Select(h => h.Scatter),
        ];
        if (known.Length < FewestBefore || recent.Any(h => !(h.IntervalSeconds < 1.5 * interval && interval < 1.5 * h.IntervalSeconds)))
        {
            return null;
        }

        double past = Robust.Median(known.AsSpan(0, Math.Max(FewestBefore / 2, known.Length / 2)));
        return (recent.Min(h => h.Scatter) / Math.Max(past, 1e-6), past);
    }
}
