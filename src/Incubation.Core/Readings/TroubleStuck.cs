using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>
/// A stuck value. Two ways to know it: the probe flickered all the time and has stopped, for far longer than ever in the past week; or the
/// others in the incubator moved and it did not. A steady incubator with a coarse probe gives neither: the past of such a probe holds long
/// stillness, or has not been through a whole step of its scale, and then nothing is concluded from it.
/// </summary>
internal static class TroubleStuck
{
    // A stuck probe may flicker once by a glitch; this many changes and it lives.
    private const int ChangesThatClear = 3;

    // A probe that never stands still for longer has hourly means finer than its step.
    private static readonly Duration Flickers = Duration.FromMinutes(30);

    public static Trouble? Judge(TroubleProbe probe, TroubleProbe[] others, Trouble? before, Instant now)
    {
        TroubleStillness still = probe.Track.Stillness;
        if (before is not null && still.Changes < before.Reference + ChangesThatClear)
        {
            return before with { Words = Words(probe, before.Since, now, before.Evidence[^1].Value, Reason(before)) };
        }

        if (still.Count < TroubleRules.StuckReadings || still.Time < TroubleRules.StuckAtLeast || IsSaturated(probe.Track.Series.Quantity, still.Value))
        {
            return null;
        }

        string? why = StoppedFlickering(probe.Track, others) ?? OthersMoved(probe, others, now);
        if (why is null)
        {
            return null;
        }

        still.Called = true;
        return new Trouble(
            TroubleKind.Stuck, probe.Track.Series, still.Since, Words(probe, still.Since, now, still.Value, why),
            [.. probe.Track.HourPoints(still.Since - Duration.FromHours(12), still.Since), new TroublePoint(still.Since, still.Value),
                new TroublePoint(probe.Track.Newest!.Value, still.Value)],
            null, still.Changes);
    }

    private static string? StoppedFlickering(TroubleTrack track, TroubleProbe[] others)
    {
        TroubleStillness still = track.Stillness;
        (int count, Duration time) = still.Longest();
        if (still.Since - track.First!.Value < TroubleRules.Watched || !(MovedOnEachOfTwoDays(track) || OthersAreWhereTheyWere(track, others))
            || still.Count <= TroubleRules.StuckTimes * count || still.Time <= time * TroubleRules.StuckTimes)
        {
            return null;
        }

        // Where hours without a change are usual, it is the room that moves the probe; if it moved no other one either, all are just steady.
        if (time > TroubleRules.StuckBesideOthers && others.Length > 0
            && others.All(other => other.Track.Newest is not { } newest
                || !(Movement(other.Track, TroubleTrack.HourOf(still.Since) + Duration.FromHours(1), newest, fewest: 2) >= still.Step)))
        {
            return null;
        }

        return $"In the week before it never said the same for {TroubleWords.Length(Duration.Max(time, Duration.FromMinutes(1)) + Duration.FromMinutes(1))}.";
    }

    // So that its past has been through every part of a step: at the middle of one it is stillest.
    private static bool MovedOnEachOfTwoDays(TroubleTrack track)
    {
        TroubleStillness still = track.Stillness;
        Instant end = TroubleTrack.HourOf(still.Since);
        for (int day = 0; day < 2; day++, end -= Duration.FromHours(24))
        {
            if (!(Movement(track, end - Duration.FromHours(24), end, fewest: 18) >= TroubleRules.StuckStepsADay * still.Step))
            {
                return false;
            }
        }

        return true;
    }

    // Or the incubator is where it was in those two days, as others tell that flicker: then the past knows this very part of a step.
    private static bool OthersAreWhereTheyWere(TroubleTrack track, TroubleProbe[] others)
    {
        TroubleStillness still = track.Stillness;
        Instant since = TroubleTrack.HourOf(still.Since);
        return still.Time >= TroubleRules.StuckBesideOthers && others.Any(other =>
        {
            TroubleStillness its = other.Track.Stillness;
            return its.Time < Flickers && its.Longest().Time < Flickers
                && Span(other.Track, since - Duration.FromHours(48), since, fewest: 36) is { } before
                && Span(other.Track, since + Duration.FromHours(1), other.Track.Newest!.Value, fewest: 1) is { } now
                && now.Least >= before.Least - (still.Step / 4) && now.Most <= before.Most + (still.Step / 4);
        });
    }

    private static string? OthersMoved(TroubleProbe probe, TroubleProbe[] others, Instant now)
    {
        TroubleStillness still = probe.Track.Stillness;
        Quantity quantity = probe.Track.Series.Quantity;
        if (still.Time < TroubleRules.StuckBesideOthers)
        {
            return null;
        }

        // A tub follows slowly and less: more is asked for. Its humidity has a life of its own.
        bool inTub = probe.Tub is not null;
        TroubleProbe[] comparable = [.. others.Where(o => inTub || o.Tub is null)];
        if (comparable.Length == 0 || (inTub && (quantity == Quantity.Humidity || still.Time < 2 * TroubleRules.StuckBesideOthers)))
        {
            return null;
        }

        double needed = Math.Max(TroubleRules.OthersMoved(quantity) * (inTub ? 2 : 1), 4 * still.Step);
        double moved = MovementTogether(comparable, still.Since, now - (inTub ? TroubleRules.StuckBesideOthers : Duration.FromHours(1)));
        return moved < needed || double.IsNaN(moved) ? null
            : $"Meanwhile {TroubleWords.Names(comparable)} moved by {TroubleWords.Value(moved, quantity)}.";
    }

    private static double Movement(TroubleTrack track, Instant from, Instant to, int fewest)
        => Span(track, from, to, fewest) is { } span ? span.Most - span.Least : double.NaN;

    // Of the whole hours' means within a time; null when fewer hours are known than are needed.
    private static (double Least, double Most)? Span(TroubleTrack track, Instant from, Instant to, int fewest)
    {
        double least = double.PositiveInfinity, most = double.NegativeInfinity;
        int hours = 0;
        for (Instant hour = from; hour + Duration.FromHours(1) <= to; hour += Duration.FromHours(1))
        {
            if (track.Hour(hour) is { } sum)
            {
                (least, most, hours) = (Math.Min(least, sum.Mean), Math.Max(most, sum.Mean), hours + 1);
            }
        }

        return hours < fewest ? null : (least, most);
    }

    // The mean of the others: a fan that stops warms the top and cools the bottom, and may leave the middle as it was.
    private static double MovementTogether(TroubleProbe[] others, Instant from, Instant to)
    {
        double least = double.PositiveInfinity, most = double.NegativeInfinity;
        for (Instant hour = TroubleTrack.HourOf(from) + Duration.FromHours(1); hour + Duration.FromHours(1) <= to; hour += Duration.FromHours(1))
        {
            double sum = 0;
            int known = 0;
            foreach (TroubleProbe other in others)
            {
                if (other.Track.Hour(hour) is { } mean)
                {
                    (sum, known) = (sum + mean.Mean, known + 1);
                }
            }

            if (known == others.Length)
            {
                (least, most) = (Math.Min(least, sum / known), Math.Max(most, sum / known));
            }
        }

        return most >= least ? most - least : double.NaN;
    }

    private static bool IsSaturated(Quantity quantity, double value)
        => quantity == Quantity.Humidity && value is >= TroubleRules.NearlySaturated or <= 0;

    private static string Words(TroubleProbe probe, Instant since, Instant now, double value, string why)
        => $"{probe.Name} has said {TroubleWords.Value(value, probe.Track.Series.Quantity)} without a flicker for {TroubleWords.Length(now - since)}. {why}";

    // The reason stands behind the first sentence.
    private static string Reason(Trouble before) => before.Words[(before.Words.IndexOf(". ", StringComparison.Ordinal) + 2)..];
}
