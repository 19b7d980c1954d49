using Incubation.Core.Clutches;
using Incubation.Core.Development;
using Incubation.Core.Readings;
using Incubation.Core.Review;
using Incubation.Service.Clutches;
using Incubation.Service.Development;
using Incubation.Service.Hosting;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Incubation.Service.Review;

/// <summary>Puts a review together from what the clutch had, the alarms, the care log and the outcomes.</summary>
internal sealed class ClutchReviews(
    Climate climate, HatchForecasts forecasts, ClutchAlarms alarms, ServiceClock clock, IDbContextFactory<RecordsContext> records)
{
    // An alarm waits for its on-delay, and a late reading raises it late.
    private static readonly Duration AlarmLag = Duration.FromMinutes(30);

    // What is done to a tub shows within the hour.
    private static readonly Duration CareBefore = Duration.FromHours(1);

    public async Task<ReviewView> OfAsync(
        BookedClutch clutch, BookedClutch? against, TemperatureScale scale, CancellationToken cancellationToken)
    {
        Gathered mine = await GatherAsync(clutch, cancellationToken);
        Gathered? other = against is null ? null : await GatherAsync(against, cancellationToken);
        IReadOnlyList<AlarmSpan> raised = await alarms.WhileAsync(mine.Path, cancellationToken);
        IReadOnlyList<CareRecord> care = await CareAsync(mine, cancellationToken);
        ClutchReview review = mine.Review;
        return new ReviewView(
            Head(clutch, mine, scale), other is null ? null : Head(against!, other, scale), ReviewWords.Sentence(review, scale),
            [.. review.Stretches.Select(stretch => Tell(stretch, mine, raised, care, scale))],
            [.. review.Gaps.Select(gap => Tell(gap, raised))],
            Counts(clutch), Exposed(review),
            other is null ? [] : [.. ReviewWords.Compare(review, other.Review).Append(FirstPip(clutch, mine, against!, other)).Select(line =>
                new ComparisonView(line.What, Rounded(line.This), Rounded(line.Against), line.Words))],
            [.. mine.Path.Near.Select(span => new SpeakerView(span.Probe, span.Where, ReviewTexts.Near(span.Nearness), span.From, span.Until))],
            Caveat(mine));
    }

    private async Task<Gathered> GatherAsync(BookedClutch clutch, CancellationToken cancellationToken)
    {
        Instant now = clock.Wall;
        HatchForecasts.Kept? kept = await forecasts.OfAsync(clutch, HatchForecasts.LineAge, cancellationToken);
        ClutchLife life = ClutchLife.Of(clutch, forecasts.Zone, now);
        Instant end = Instant.Max(life.End, life.Laid + Duration.FromSeconds(1));
        ClutchPath path = await climate.PathAsync(clutch, Quantity.Temperature, life.Laid, end, cancellationToken);
        Trace line = climate.Line(clutch, path, Quantity.Temperature, life.Laid, life.End, now, calm: false);
        ClutchReview review = ClutchReview.Of(new ReviewInput(
            line, climate.Probes(path, Quantity.Temperature, life.Laid, life.End, now), path.Bands, life.Laid, life.End,
            kept?.Forecast.Curve, clutch.Counts, LifeStrip.JoinWithin));
        return new Gathered(life, path, review);
    }

    private async Task<IReadOnlyList<CareRecord>> CareAsync(Gathered mine, CancellationToken cancellationToken)
    {
        string[] tubs = [.. mine.Path.Whereabouts.Select(w => w.Tub).OfType<string>().Distinct()];
        string[] incubators = [.. mine.Path.Whereabouts.Select(w => w.Incubator).OfType<string>().Distinct()];
        Instant from = mine.Life.Laid - CareBefore, until = mine.Life.End;
        await using RecordsContext context = await records.CreateDbContextAsync(cancellationToken);
        List<CareRecord> lines = await context.Care.AsNoTracking()
            .Where(c => c.At >= from && c.At <= until
                && ((c.On == "tub" && tubs.Contains(c.Key)) || (c.On == "incubator" && incubators.Contains(c.Key))))
            .OrderBy(c => c.At).ToListAsync(cancellationToken);
        return [.. lines.Where(line => mine.Path.Whereabouts.Any(stretch => stretch.From <= line.At + CareBefore && line.At < stretch.Until
            && (line.On == "tub" ? stretch.Tub : stretch.Incubator) == line.Key))];
    }

    private StretchView Tell(
        ReviewedStretch stretch, Gathered mine, IReadOnlyList<AlarmSpan> raised, IReadOnlyList<CareRecord> care, TemperatureScale scale)
    {
        Excursion found = stretch.Excursion;
        string condition = found.Side == Side.Above ? "high" : "low";
        AlarmSpan[] own =
        [
            .. raised.Where(alarm => alarm.Quantity == Quantity.Temperature.Name && alarm.Condition == condition
                && alarm.Overlaps(found.From, found.Until + AlarmLag)
                && mine.Path.Whereabouts.Any(w => w.Incubator == alarm.Incubator && w.From < found.Until && w.Until > found.From)),
        ];
        CareRecord[] near = [.. care.Where(line => line.At >= found.From - CareBefore && line.At <= found.Until)];
        CareRecord[] before = [.. near.Where(line => line.At <= found.From)];
        double hours = Math.Round(found.DegreeHours, 3);
        return new StretchView(
            ReviewTexts.Word(found.Side), found.From, found.Until, Math.Round(found.Peak, 3), found.PeakAt,
            found.Side == Side.Above ? hours : 0, found.Side == Side.Below ? hours : 0, stretch.StageFrom, stretch.StageUntil,
            [.. stretch.Probes.Select(p => new ProbeSaysView(p.Probe, p.Where, ReviewTexts.Says(p, found.Side, scale)))],
            [.. own.Select(Show)], [.. near.Select(Show)],
            ReviewTexts.Stretch(stretch, own, before, forecasts.Zone, scale));
    }

    private ReviewGapView Tell(Interval gap, IReadOnlyList<AlarmSpan> raised)
    {
        AlarmSpan[] own =
        [
            .. raised.Where(alarm => alarm.Condition is "no reading" or "nothing from any probe" && alarm.Overlaps(gap.Start, gap.End + AlarmLag)),
        ];
        return new ReviewGapView(
            gap.Start, gap.End, Math.Round(gap.Duration.TotalHours, 2), [.. own.Select(Show)], ReviewTexts.Gap(gap, own, forecasts.Zone));
    }

    private ReviewAlarmView Show(AlarmSpan alarm) => new(
        alarm.Occurrence, alarm.RaisedAt, alarm.Severity, alarm.AnsweredBy, alarm.AnsweredAt, ReviewTexts.Alarm(alarm, forecasts.Zone));

    private ReviewCareView Show(CareRecord line) => new(
        line.Id, line.At, line.On, line.Key, line.Kind, line.WaterGrams, line.Note, line.By, ReviewTexts.Care(line, forecasts.Zone));

    private static ReviewedClutchView Head(BookedClutch clutch, Gathered gathered, TemperatureScale scale) => new(
        clutch.Key, clutch.Clutch.Label, clutch.Species?.Name ?? clutch.Clutch.Species, clutch.Clutch.Dam, clutch.Clutch.Sire,
        clutch.Clutch.Laid.Date, gathered.Life.Laid, gathered.Life.End, gathered.Life.Over, ReviewWords.Sentence(gathered.Review, scale));

    private static OutcomeCountsView Counts(BookedClutch clutch)
    {
        Core.Candling.EggCounts eggs = clutch.Counts;
        return new OutcomeCountsView(
            eggs.Laid, eggs.Hatched, eggs.Dead, eggs.Slug, eggs.Alive, eggs.Doubtful, eggs.NotLookedAt,
            Seen(clutch, OutcomeKind.FirstPip).Min(), Seen(clutch, OutcomeKind.Out).Max());
    }

    private static IEnumerable<Instant?> Seen(BookedClutch clutch, OutcomeKind kind)
        => clutch.Outcomes.Where(o => o.Stands && o.Outcome.Kind == kind).Select(o => (Instant?)o.Outcome.At);

    private static ExposureView Exposed(ClutchReview review) => new(
        Math.Round(review.Exposure.KnownHours, 2), Math.Round(review.Exposure.HoursAbove, 2), Math.Round(review.Exposure.DegreeHoursAbove, 3),
        Math.Round(review.Exposure.HoursBelow, 2), Math.Round(review.Exposure.DegreeHoursBelow, 3), Rounded(review.MeanCelsius));

    private static ComparisonLine FirstPip(BookedClutch clutch, Gathered mine, BookedClutch against, Gathered other)
    {
        double? days = Days(clutch, mine), otherDays = Days(against, other);
        return new ComparisonLine("days from laying to the first pip or young", days, otherDays, (days, otherDays) switch
        {
            (null, _) or (_, null) => "not known of both",
            ({ } a, { } b) when Math.Abs(a - b) < 0.5 => "about the same",
            ({ } a, { } b) => a > b ? "later" : "earlier",
        });

        static double? Days(BookedClutch of, Gathered gathered)
            => Seen(of, OutcomeKind.FirstPip).Concat(Seen(of, OutcomeKind.Out)).Min() is { } first ? (first - gathered.Life.Laid).TotalDays : null;
    }

    private static string Caveat(Gathered mine)
    {
        string later = mine.Path.BandLater ? " Some of the time is held against a band that was set only later." : "";
        Duration air = mine.Path.Whereabouts.Where(w => w.Nearness == ProbeNearness.Incubator)
            .Aggregate(Duration.Zero, (sum, w) => sum + w.Length);
        string far = air > Duration.FromHours(1)
            ? $" For {ForecastWords.Length(air)} only probes in the incubator's air spoke for it: its eggs may have been up to 2 °C (3.6 °F) off."
            : "";
        return ReviewWords.Caveat + later + far;
    }

    private static double? Rounded(double? value) => value is { } known ? Math.Round(known, 3) : null;

    private sealed record Gathered(ClutchLife Life, ClutchPath Path, ClutchReview Review);
}
