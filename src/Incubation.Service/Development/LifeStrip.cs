using Incubation.Core.Clutches;
using Incubation.Core.Development;
using Incubation.Core.Readings;
using Incubation.Core.Review;
using Incubation.Core.Tint;
using Incubation.Service.Clutches;
using Incubation.Service.Facility;
using Incubation.Service.Hosting;
using Incubation.Service.Review;
using NodaTime;

namespace Incubation.Service.Development;

/// <summary>Draws a clutch's whole life on one line.</summary>
internal sealed class LifeStrip(
    Climate climate, HatchForecasts forecasts, ClutchAlarms alarms, IFacility facility, ITintWords tints, ServiceClock clock)
{
    /// <summary>Stretches out of band that are no further apart are told as one: a thermostat's swing is one story, not forty.</summary>
    public static readonly Duration JoinWithin = Duration.FromMinutes(30);

    private const int CurvePoints = 60;

    // Looks this far apart belong to two rounds.
    private static readonly Duration Round = Duration.FromHours(1);

    public async Task<StripView> OfAsync(BookedClutch clutch, int buckets, TemperatureScale scale, CancellationToken cancellationToken)
    {
        Instant now = clock.Wall;
        HatchForecasts.Kept? kept = await forecasts.OfAsync(clutch, HatchForecasts.LineAge, cancellationToken);
        HatchForecast? forecast = kept?.Forecast;
        ClutchLife life = ClutchLife.Of(clutch, forecasts.Zone, now);
        Instant from = ClutchDay.Start(clutch.Clutch.Laid.Date, 0, forecasts.Zone);
        Instant to = Instant.Max(life.End, life.Over ? life.End : forecast?.P90 ?? life.End) + Duration.FromDays(1);
        ClutchPath path = await climate.PathAsync(
            clutch, Quantity.Temperature, life.Laid, Instant.Max(life.End, life.Laid + Duration.FromSeconds(1)), cancellationToken);
        Trace line = climate.Line(clutch, path, Quantity.Temperature, life.Laid, life.End, now, calm: false);
        StripBuckets drawn = StripBuckets.Of(line, from, to, buckets);

        return new StripView(
            from, to, now, drawn.WidthMs, drawn.StartMs, drawn.Min, drawn.Mean, drawn.Max,
            [.. line.Gaps(life.Laid, life.End).Select(gap => new StripGap(gap.Start, gap.End))],
            BandNow(path),
            [.. path.Bands.Select(band => new StripBand(band.From, band.Until, band.Low, band.High))],
            [.. Excursions.Find(line, path.Bands, JoinWithin).Select(found => Told(found, forecast, scale))],
            Rounds(clutch), StageOf(forecast, life, to), PipOf(forecast, life),
            [.. (await alarms.WhileAsync(path, cancellationToken)).Select(alarm =>
                new StripAlarm(alarm.Occurrence, alarm.RaisedAt, alarm.Until, alarm.Severity, alarm.Words))],
            [.. path.Near.Select(span => new StripProbe(span.Probe, span.Where, ReviewTexts.Near(span.Nearness), span.From, span.Until))]);
    }

    private static StripExcursion Told(Excursion found, HatchForecast? forecast, TemperatureScale scale)
    {
        double? stage = forecast?.Curve.At(found.From);
        return new StripExcursion(
            found.From, found.Until, Math.Round(found.Peak, 3), Math.Round(found.DegreeHours, 3), ReviewTexts.Word(found.Side), stage,
            ReviewWords.Stretch(new ReviewedStretch(found, stage, forecast?.Curve.At(found.Until), []), scale));
    }

    private BandView? BandNow(ClutchPath path)
        => path.Whereabouts.LastOrDefault(stretch => stretch.Incubator is not null)?.Incubator is { } incubator
            && facility.Current.Bands.TryGetValue((incubator, Quantity.Temperature), out Core.Alarms.Band? band)
            ? BandView.Of(band)
            : null;

    private List<StripCandling> Rounds(BookedClutch clutch)
    {
        Dictionary<string, TintTerm> terms = tints.Terms.ToDictionary(term => term.Key);
        var rounds = new List<List<BookedLook>>();
        foreach (BookedLook look in clutch.Candlings.Where(look => look.SupersededBy.IsEmpty).OrderBy(look => look.Entry.At))
        {
            if (rounds.Count == 0 || look.Entry.At - rounds[^1][^1].Entry.At > Round)
            {
                rounds.Add([]);
            }

            rounds[^1].Add(look);
        }

        return
        [
            .. rounds.Select(round => new StripCandling(
                round[0].Entry.At, round.Select(look => look.Entry.Egg).Distinct().Count(),
                [
                    .. round.Where(look => look.Entry.Tint is not null).GroupBy(look => look.Entry.Tint!)
                        .Select(group => new StripTint(
                            terms.GetValueOrDefault(group.Key)?.Colour, group.First().TintWord ?? terms.GetValueOrDefault(group.Key)?.Word ?? group.Key,
                            group.Count()))
                        .OrderByDescending(tint => tint.N).ThenBy(tint => tint.Word, StringComparer.Ordinal),
                ])),
        ];
    }

    private static double[][] StageOf(HatchForecast? forecast, ClutchLife life, Instant to)
        => forecast is null
            ? []
            : Points(life.Laid, forecast.Central ?? to, at => Math.Round(forecast.Curve.At(at), 4));

    private static StripPip? PipOf(HatchForecast? forecast, ClutchLife life)
    {
        if (forecast?.P50 is null || life.Over)
        {
            return null;
        }

        Instant from = forecast.Spread.By(0.005) ?? life.Laid, to = forecast.Spread.By(0.995) ?? forecast.P90 ?? forecast.P50.Value;
        return new StripPip(
            forecast.P10, forecast.P50, forecast.P90, Points(from, to, at => Math.Round(forecast.Spread.Density(at), 5)));
    }

    private static double[][] Points(Instant from, Instant to, Func<Instant, double> value)
        =>
        [
            .. Enumerable.Range(0, CurvePoints + 1).Select(i =>
            {
                Instant at = from + ((to - from) * i / CurvePoints);
                return new[] { at.ToUnixTimeMilliseconds(), value(at) };
            }),
        ];
}
