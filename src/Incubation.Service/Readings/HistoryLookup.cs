using Incubation.Core.Readings;
using Incubation.Service.Hosting;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Incubation.Service.Readings;

/// <summary>
/// Finds what the probes of an incubator measured while they were in it. All series share one grid of buckets; where a probe came or
/// went inside a bucket, only its readings from then on, or until then, count.
/// </summary>
internal sealed class HistoryLookup(IDbContextFactory<RecordsContext> records, LongHistory history, ServiceClock clock)
{
    /// <summary>The series of an incubator, retired or not; null when there never was one of that key.</summary>
    public async Task<HistoryFound?> FindAsync(
        string incubator, Quantity quantity, HistoryRange range, CancellationToken cancellationToken)
    {
        Instant from = Instant.FromUnixTimeMilliseconds(range.Range.FromMs), to = Instant.FromUnixTimeMilliseconds(range.Range.ToMs);
        List<PlacementRecord> placements;
        await using (RecordsContext context = await records.CreateDbContextAsync(cancellationToken))
        {
            if (!await context.Incubators.AnyAsync(i => i.Key == incubator, cancellationToken))
            {
                return null;
            }

            placements = await context.Placements.AsNoTracking()
                .Where(p => p.Incubator == incubator && p.From < to && (p.Until == null || p.Until > from))
                .OrderBy(p => p.From).ToListAsync(cancellationToken);
        }

        List<HistorySeries> found = [];
        string? incomplete = null;
        foreach (PlacementRecord placement in placements)
        {
            SeriesRange here = new(
                Math.Max(placement.From.ToUnixTimeMilliseconds(), range.Range.FromMs),
                Math.Min(placement.Until?.ToUnixTimeMilliseconds() ?? long.MaxValue, range.Range.ToMs));
            (HistorySeries series, string? missing) = await ColumnsAsync(new SeriesKey(placement.Probe, quantity), placement.Where, here, range, cancellationToken);
            incomplete ??= missing;
            if (series.StartMs.Count > 0)
            {
                found.Add(series);
            }
        }

        return new HistoryFound(found, incomplete);
    }

    private async Task<(HistorySeries Series, string? Incomplete)> ColumnsAsync(
        SeriesKey key, string where, SeriesRange here, HistoryRange range, CancellationToken cancellationToken)
    {
        HistoryGrid grid = new(range.Range.FromMs, range.BucketMs);
        string? incomplete = null;
        foreach (HistoryStretch stretch in history.Stretches(key, here.FromMs, here.ToMs))
        {
            foreach ((long fromMs, long toMs, int buckets) in grid.Cut(stretch.FromMs, stretch.ToMs))
            {
                try
                {
                    grid.Add(await history.BucketsAsync(key, fromMs, toMs, buckets, stretch.FromArchive, cancellationToken));
                }
                catch (ArchiveUnavailableException error)
                {
                    incomplete = error.Message;
                    break;
                }
            }
        }

        long until = Math.Min(here.ToMs, Math.Max(here.FromMs, clock.Wall.ToUnixTimeMilliseconds()));
        // What the copy didn't tell of is no gap.
        IReadOnlyList<(long FromMs, long ToMs)> gaps =
            incomplete is null ? ReadingGaps.Find(grid.StartMs, grid.Count, range.BucketMs, here.FromMs, until) : [];
        return (new HistorySeries(
            key.Probe, where, grid.StartMs, grid.Min, grid.Mean, grid.Max, grid.Count, [.. gaps.Select(gap => new[] { gap.FromMs, gap.ToMs })]), incomplete);
    }
}
