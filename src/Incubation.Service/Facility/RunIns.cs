using Incubation.Core.Alarms;
using Incubation.Core.Readings;
using Incubation.Service.Hosting;
using Incubation.Service.Probes;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Incubation.Service.Facility;

/// <summary>How one probe was; the same quantities as the incubator's bands.</summary>
internal sealed record RunInSteadinessView(
    string Quantity, string Probe, string Where, double Mean, double Deviation, double Least, double Most, double? InBandShare, double Cycle);

/// <summary>A place that is warmer or cooler than the rest, °C.</summary>
internal sealed record RunInSpotView(string Probe, string Where, double Difference, double Doubt, string Words);

/// <summary>A run-in as it stands: running, done or ended; ready, not ready or too early.</summary>
internal sealed record RunInView(
    Guid Id, Instant From, Instant Until, double Hours, int OfHours, string State, string Verdict, string Words,
    IReadOnlyList<RunInSteadinessView> Steadiness, IReadOnlyList<RunInSpotView> Spots, IReadOnlyList<string> Findings, string By);

/// <summary>When it began; from now when no time is given.</summary>
internal sealed record RunInRequest(string? From);

/// <summary>Tries incubators out: keeps when, and judges by what was measured whenever somebody asks.</summary>
internal sealed class RunIns(
    IDbContextFactory<RecordsContext> records, IFacility facility, IReadingHistory history, ProbeRegister probes, ServiceClock clock)
{
    private static readonly Duration Length = Duration.FromHours(RunInRules.Hours);

    /// <summary>Begins one; null when one is running already.</summary>
    public async Task<RunInView?> BeginAsync(string incubator, Instant? from, string by, CancellationToken cancellationToken)
    {
        Instant now = clock.Wall;
        await using RecordsContext context = await records.CreateDbContextAsync(cancellationToken);
        if (await RunningAsync(context, incubator, now, cancellationToken) is not null)
        {
            return null;
        }

        var record = new RunInRecord { Id = Guid.NewGuid(), Incubator = incubator, From = from ?? now, By = by, EnteredAt = now };
        context.Add(record);
        await context.SaveChangesAsync(cancellationToken);
        return await ViewAsync(context, record, now, cancellationToken);
    }

    /// <summary>Ends the running one before its time; false when there is none.</summary>
    public async Task<bool> EndAsync(string incubator, CancellationToken cancellationToken)
    {
        Instant now = clock.Wall;
        await using RecordsContext context = await records.CreateDbContextAsync(cancellationToken);
        if (await RunningAsync(context, incubator, now, cancellationToken) is not { } running)
        {
            return false;
        }

        running.EndedAt = now;
        await context.SaveChangesAsync(cancellationToken);
        return true;
    }

    /// <summary>The newest <see cref="Core.Limits.RunIns"/>, newest first.</summary>
    public async Task<IReadOnlyList<RunInView>> ListAsync(string incubator, CancellationToken cancellationToken)
    {
        Instant now = clock.Wall;
        await using RecordsContext context = await records.CreateDbContextAsync(cancellationToken);
        List<RunInView> views = [];
        foreach (RunInRecord record in await context.Set<RunInRecord>().AsNoTracking().Where(r => r.Incubator == incubator)
            .OrderByDescending(r => r.From).ThenByDescending(r => r.EnteredAt).Take(Core.Limits.RunIns).ToListAsync(cancellationToken))
        {
            views.Add(await ViewAsync(context, record, now, cancellationToken));
        }

        return views;
    }

    private static async Task<RunInRecord?> RunningAsync(RecordsContext context, string incubator, Instant now, CancellationToken cancellationToken)
    {
        Instant begun = now - Length;
        return await context.Set<RunInRecord>().FirstOrDefaultAsync(
            r => r.Incubator == incubator && r.EndedAt == null && r.From > begun, cancellationToken);
    }

    private async Task<RunInView> ViewAsync(RecordsContext context, RunInRecord record, Instant now, CancellationToken cancellationToken)
    {
        Instant end = record.From + Length;
        bool done = record.EndedAt is null ? now >= end : record.EndedAt >= end;
        Instant until = Instant.Min(record.EndedAt ?? now, end);
        List<PlacementRecord> placed = await context.Placements.AsNoTracking()
            .Where(p => p.Incubator == record.Incubator && p.From < until && (p.Until == null || p.Until > record.From)).ToListAsync(cancellationToken);
        RunInJudgement judged = RunInJudge.Judge(
            [.. placed.GroupBy(p => (p.Probe, p.Where)).SelectMany(stay => Series(stay.MinBy(p => p.From)!, record.From, until))],
            quantity => Limits(record.Incubator, quantity), record.From, until);
        return new RunInView(
            record.Id, record.From, until, Math.Round(judged.Hours, 2), RunInRules.Hours,
            done ? "done" : record.EndedAt is null ? "running" : "ended",
            judged.Verdict switch { RunInVerdict.Ready => "ready", RunInVerdict.NotReady => "not ready", _ => "too early" }, judged.Words,
            [
                .. judged.Steadiness.Select(s => new RunInSteadinessView(
                    s.Series.Quantity.Name, s.Series.Probe, s.Where, Round(s.Mean), Round(s.Deviation), Round(s.Least), Round(s.Most),
                    s.InBandShare is { } share ? Round(share) : null, Round(s.Cycle))),
            ],
            [.. judged.Spots.Select(s => new RunInSpotView(s.Probe, s.Where, Round(s.Difference), Round(s.Doubt), s.Words))], judged.Findings, record.By);
    }

    // Only what a probe measured while it was there.
    private IEnumerable<RunInSeries> Series(PlacementRecord place, Instant from, Instant until)
    {
        Instant start = Instant.Max(from, place.From), end = Instant.Min(until, place.Until ?? until);
        int buckets = (int)Math.Floor((end - start) / RunInRules.Bucket);
        if (buckets < 1)
        {
            yield break;
        }

        string name = probes.Find(place.Probe)?.Name is { Length: > 0 } called ? called : place.Probe;
        // One grid for all, so that places are compared at the same times.
        long grid = (long)RunInRules.Bucket.TotalMilliseconds;
        Instant first = Instant.FromUnixTimeMilliseconds((start.ToUnixTimeMilliseconds() + grid - 1) / grid * grid);
        Instant last = Instant.FromUnixTimeMilliseconds(end.ToUnixTimeMilliseconds() / grid * grid);
        foreach (Quantity quantity in new[] { Quantity.Temperature, Quantity.Humidity })
        {
            if (last > first)
            {
                yield return new RunInSeries(
                    new SeriesKey(place.Probe, quantity), name, place.Where,
                    history.Buckets(new SeriesKey(place.Probe, quantity), first, last, (int)Math.Round((last - first) / RunInRules.Bucket)));
            }
        }
    }

    private RunInLimits Limits(string incubator, Quantity quantity)
        => facility.Current.Bands.TryGetValue((incubator, quantity), out Band? band)
            ? new RunInLimits(band.WarningLow ?? band.DangerLow, band.WarningHigh ?? band.DangerHigh) : default;

    private static double Round(double value) => Math.Round(value, 4);
}
