using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>
/// A probe that should lie in a tub and does not. It fell out when its value fell faster than a tub can, while the air did not, and stayed
/// down; it lies in the room when it is far below the air for hours and does not catch up; it hangs in the air when it follows the air's
/// swings nearly whole and used to follow them by half or less.
/// </summary>
internal static class TroubleOutside
{
    private const int ExcitedNow = 3, ExcitedBefore = 6, HoursLikeTheRoom = 6;
    private static readonly Duration Cell = TroubleTrack.CellWidth, Hour = Duration.FromHours(1);

    public static Trouble? Judge(TroubleProbe probe, TroubleProbe[] others, Trouble? before, Instant now)
    {
        Quantity quantity = probe.Track.Series.Quantity;
        if (probe.Tub is null || (quantity != Quantity.Temperature && quantity != Quantity.Humidity))
        {
            return null;
        }

        TroubleProbe[] air = [.. others.Where(o => o.Tub is null)];
        if (before is not null)
        {
            return IsBack(probe, air, before, now) ? null : before;
        }

        return Fell(probe, air, now) ?? (quantity == Quantity.Temperature ? LikeTheRoom(probe, air, now) ?? FollowsTheAir(probe, air, now) : null);
    }

    // For half an hour it must be back at where it was; where it had followed the air, it must follow less again for hours.
    private static bool IsBack(TroubleProbe probe, TroubleProbe[] air, Trouble before, Instant now)
    {
        if (before.Reference == 0)
        {
            (Instant Hour, double Share)[] shares = [.. Shares(probe, air, TroubleTrack.HourOf(now)).Where(s => s.Hour >= before.Since)];
            return shares.Length >= ExcitedNow && shares.TakeLast(ExcitedNow).All(s => s.Share < TroubleRules.FollowedShare);
        }

        double near = probe.Track.Series.Quantity == Quantity.Humidity ? TroubleRules.FallHumidity / 2 : TroubleRules.FallCelsius / 2;
        Instant end = TroubleTrack.CellOf(now);
        return Enumerable.Range(1, 3).All(i => probe.Track.Cell(end - (Cell * i)) is { } cell && cell.Mean > before.Reference - near);
    }

    private static Trouble? Fell(TroubleProbe probe, TroubleProbe[] air, Instant now)
    {
        Quantity quantity = probe.Track.Series.Quantity;
        double fall = quantity == Quantity.Humidity ? TroubleRules.FallHumidity : TroubleRules.FallCelsius;
        Instant end = TroubleTrack.CellOf(now);
        int stays = (int)(TroubleRules.FallStays / Cell);
        // Backwards from the newest cell: how long has it been low, and did it get there at once?
        for (Instant after = end - (Cell * stays); after > end - (Cell * (TroubleTrack.Cells - 4)); after -= Cell)
        {
            if (probe.Track.Cell(after) is not { } low || probe.Track.Cell(after - (Cell * 2)) is not { } high || high.Mean - low.Mean < fall)
            {
                continue;
            }

            Instant start = after - (Cell * 2);
            return StayedDown(probe, high.Mean - (0.8 * fall), after, end) && !AirFell(air, start, after, high.Mean - low.Mean)
                && (air.Length > 0 || IsAtOnce(probe, start, after, stays))
                ? Of(probe, start + Cell, high.Mean,
                    $"{probe.Name} fell from {TroubleWords.Value(high.Mean, quantity)} to {TroubleWords.Value(low.Mean, quantity)} within 20 minutes"
                    + $"{(air.Length > 0 ? $", {TroubleWords.Names(air)} did not," : "")} and stays there: faster than a tub can. "
                    + $"It seems to lie outside the tub{(quantity == Quantity.Humidity ? ", or the lid is off" : "")}.", now)
                : null;
        }

        return null;
    }

    private static bool StayedDown(TroubleProbe probe, double below, Instant from, Instant end)
    {
        for (Instant at = from; at < end; at += Cell)
        {
            if (probe.Track.Cell(at) is { } cell && cell.Mean > below)
            {
                return false;
            }
        }

        return probe.Track.Cell(end - Cell) is not null;
    }

    // A third of the fall is enough to say that the incubator itself cools, as when its mains fail.
    private static bool AirFell(TroubleProbe[] air, Instant start, Instant after, double fall)
        => air.Any(a => a.Track.Cell(start) is { } high && a.Track.Cell(after) is { } low && high.Mean - low.Mean > fall / 3);

    // With no probe in the air: a tub that cools goes on cooling for hours; a probe on the bench is there within minutes.
    private static bool IsAtOnce(TroubleProbe probe, Instant start, Instant after, int stays)
        => probe.Track.Cell(start) is { } high && probe.Track.Cell(after) is { } low
            && probe.Track.Cell(after + (Cell * (stays - 1))) is { } later && low.Mean - later.Mean < (high.Mean - low.Mean) / 5;

    private static Trouble? LikeTheRoom(TroubleProbe probe, TroubleProbe[] air, Instant now)
    {
        Instant end = TroubleTrack.HourOf(now), start = end - (Hour * HoursLikeTheRoom);
        double[] gaps =
        [
            .. Enumerable.Range(0, HoursLikeTheRoom).Select(i => start + (Hour * i))
                .Where(hour => probe.Track.Hour(hour) is not null && air.Any(a => a.Track.Hour(hour) is not null))
                .Select(hour => air.Where(a => a.Track.Hour(hour) is not null).Min(a => a.Track.Hour(hour)!.Value.Mean) - probe.Track.Hour(hour)!.Value.Mean),
        ];
        if (gaps.Length < HoursLikeTheRoom || gaps.Min() < TroubleRules.LikeTheRoom || gaps[^1] < 0.8 * gaps[0])
        {
            return null;
        }

        double inTheAir = probe.Track.Hour(end - Hour)!.Value.Mean + gaps[^1];
        return Of(probe, start, inTheAir,
            $"{probe.Name} reads {TroubleWords.Value(gaps[^1], Quantity.Temperature)} less than the incubator's air for hours and does not catch up: "
            + "more like the room than a tub. It seems to lie outside.", now);
    }

    private static Trouble? FollowsTheAir(TroubleProbe probe, TroubleProbe[] air, Instant now)
    {
        Instant end = TroubleTrack.HourOf(now);
        List<(Instant Hour, double Share)> shares = Shares(probe, air, end);
        int known = shares.Count - ExcitedNow;
        if (known < ExcitedBefore || end - shares[known].Hour > Duration.FromHours(24))
        {
            return null;
        }

        double usual = Robust.Median([.. shares.Take(Math.Max(ExcitedBefore, known / 2)).Select(s => s.Share)]);
        double calm = Robust.Median([.. Enumerable.Range(1, 48).Select(i => probe.Track.Hour(shares[known].Hour - (Hour * i))).OfType<TroubleSum>().Select(s => s.Swing)]);
        if (shares.Skip(known).Any(s => s.Share < Math.Max(TroubleRules.FollowsShare, TroubleRules.FollowsTimes * usual)
            || !(probe.Track.Hour(s.Hour)!.Value.Swing >= TroubleRules.FollowsTimes * calm)))
        {
            return null;
        }

        int share = (int)Math.Round(100 * shares.Skip(known).Min(s => s.Share)), was = (int)Math.Round(100 * usual);
        return Of(probe, shares[known].Hour, 0,
            $"{probe.Name} follows the swings of the air by {Math.Min(share, 100)} %; in the tub it followed by {was} %. It seems to lie outside the tub, in the air.", now);
    }

    // What share of the air's swing it made, in every hour in which the air swung enough to tell.
    private static List<(Instant Hour, double Share)> Shares(TroubleProbe probe, TroubleProbe[] air, Instant end)
    {
        List<(Instant Hour, double Share)> shares = [];
        for (Instant hour = end - (Hour * (TroubleTrack.Hours - 1)); hour < end; hour += Hour)
        {
            double[] swings = [.. air.Select(a => a.Track.Hour(hour)).OfType<TroubleSum>().Select(sum => sum.Swing)];
            if (swings.Length > 0 && swings.Min() >= TroubleRules.SwingCelsius && probe.Track.Hour(hour) is { } own)
            {
                shares.Add((hour, own.Swing / swings.Max()));
            }
        }

        return shares;
    }

    private static Trouble Of(TroubleProbe probe, Instant since, double reference, string words, Instant now)
        => new(TroubleKind.OutsideTheTub, probe.Track.Series, since, words,
            probe.Track.HourPoints(now - (Hour * TroubleRules.EvidencePoints), now), null, reference);
}
