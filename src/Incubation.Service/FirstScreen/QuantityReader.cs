using Incubation.Core.Alarms;
using Incubation.Core.FirstScreen;
using Incubation.Core.Readings;
using Incubation.Service.Facility;
using Incubation.Service.Readings;
using NodaTime;

namespace Incubation.Service.FirstScreen;

/// <summary>One quantity of one incubator from the newest readings of the probes placed there.</summary>
internal sealed class QuantityReader(ILatestReadings latest, Func<string, string> nameOf)
{
    // Where no band says otherwise; the silence of a band's default.
    private static readonly Duration UsualSilence = Duration.FromMinutes(10);

    // A reading from the future: the wall clock was set back since. Its age is unknown, so it isn't fresh.
    private static readonly Duration ClockSlack = Duration.FromMinutes(1);

    public (QuantityNow View, QuantityFacts Facts) Read(Quantity quantity, IReadOnlyList<PlacedProbe> probes, Band? band, Instant now)
    {
        Duration silentAfter = band?.SilentAfter ?? UsualSilence;
        List<(string Probe, ReadingQuality Quality, Reading? Good)> heard =
            [.. probes.Select(probe => Judge(new SeriesKey(probe.Probe, quantity), silentAfter, now))];

        var fresh = heard.Where(h => h.Quality == ReadingQuality.Good).ToList();
        (string Probe, ReadingQuality Quality, Reading? Good)? shown = fresh.Count > 0
            ? fresh.MaxBy(h => Distance(h.Good!.Value.Value, band))
            : heard.Where(h => h.Good is not null).OrderByDescending(h => h.Good!.Value.At).Cast<(string, ReadingQuality, Reading?)?>().FirstOrDefault();

        ReadingQuality quality = fresh.Count > 0 ? ReadingQuality.Good : heard.Count == 0 ? ReadingQuality.Unknown : heard.Min(h => h.Quality);
        double? value = shown?.Good?.Value;
        BandStanding standing = quality == ReadingQuality.Good && value is { } good ? Stand(good, band) : BandStanding.NotJudged;
        IReadOnlyList<string> unheard = [.. heard.Where(h => h.Quality != ReadingQuality.Good).Select(h => nameOf(h.Probe))];
        IReadOnlyList<Reading> hour = shown is { } s ? latest.LastHour(new SeriesKey(s.Probe, quantity)) : [];

        var view = new QuantityNow(
            quantity.Name, quantity.Unit, value, NowWords.Time(shown?.Good?.At), NowWords.Of(quality), shown?.Probe,
            quality == ReadingQuality.Good ? PerHour(hour, now) : null,
            band is null ? null : new LimitsNow(band.DangerLow, band.WarningLow, band.WarningHigh, band.DangerHigh),
            NowWords.Of(standing),
            [.. hour.Select(r => new[] { Math.Round((now - r.At).TotalSeconds), r.Value })]);
        return (view, new QuantityFacts(quantity, value, quality, standing, fresh.Count > 0 ? unheard : []));
    }

    private (string Probe, ReadingQuality Quality, Reading? Good) Judge(SeriesKey series, Duration silentAfter, Instant now)
    {
        Reading? good = latest.LatestGood(series);
        Reading? any = latest.Latest(series);
        ReadingQuality quality =
            good is { } g && IsFresh(g, silentAfter, now) ? ReadingQuality.Good
            : any is not { } newest ? ReadingQuality.Unknown
            : (newest.Marks & ReadingMarks.Faulty) != 0 && IsFresh(newest, silentAfter, now) ? ReadingQuality.Faulty
            : good is null ? ReadingQuality.Unknown : ReadingQuality.Silent;
        return (series.Probe, quality, good);
    }

    private static bool IsFresh(Reading reading, Duration silentAfter, Instant now)
        => now - reading.ArrivedAt <= silentAfter && reading.ArrivedAt - now <= ClockSlack;

    private static double? PerHour(IReadOnlyList<Reading> hour, Instant now)
    {
        double? slope = Trend.PerHour([.. hour.Select(r => ((r.At - now).TotalHours, r.Value))]);
        return slope is { } perHour ? Math.Round(perHour, 2) : null;
    }

    private static double Distance(double value, Band? band)
    {
        double low = band?.WarningLow ?? band?.WarningHigh ?? value;
        double high = band?.WarningHigh ?? band?.WarningLow ?? value;
        return Math.Abs(value - ((low + high) / 2));
    }

    private static BandStanding Stand(double value, Band? band) => band switch
    {
        null => BandStanding.NotJudged,
        { DangerLow: null, WarningLow: null, WarningHigh: null, DangerHigh: null } => BandStanding.NotJudged,
        _ when value > band.DangerHigh => BandStanding.DangerHigh,
        _ when value < band.DangerLow => BandStanding.DangerLow,
        _ when value > band.WarningHigh => BandStanding.WarningHigh,
        _ when value < band.WarningLow => BandStanding.WarningLow,
        _ => BandStanding.InBand,
    };
}
