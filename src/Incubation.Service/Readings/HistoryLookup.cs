using Incubation.Core.Readings;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Incubation.Service.Readings;

/// <summary>
/// Finds what the probes of an incubator measured while they were in it. All series share one grid of buckets; where a probe came or
/// went inside a bucket, only its readings from then on, or until then, count.
/// </summary>
internal sealed class HistoryLookup(IDbContextFactory<RecordsContext> records, IReadingHistory store)
{
    /// <summary>The series of an incubator, retired or not; null when there never was one of that key.</summary>
    public async Task<IReadOnlyList<HistorySeries>?> FindAsync(
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
        foreach (PlacementRecord placement in placements)
        {
            SeriesRange here = new(
                Math.Max(placement.From.ToUnixTimeMilliseconds(), range.Range.FromMs),
                Math.Min(placement.Until?.ToUnixTimeMilliseconds() ?? long.MaxValue, range.Range.ToMs));
            HistorySeries series = Columns(new SeriesKey(placement.Probe, quantity), placement.Where, here, range);
            if (series.StartMs.Count > 0)
            {
                found.Add(series);
            }
        }

        return found;
    }

    private HistorySeries Columns(SeriesKey key, string where, SeriesRange here, HistoryRange range)
    {
        List<long> start = [];
        List<double> min = [], mean = [], max = [];
        List<int> count = [];
        long width = range.BucketMs, origin = range.Range.FromMs;
        long first = origin + (here.FromMs - origin + width - 1) / width * width;
        long last = origin + (here.ToMs - origin) / width * width;
        if (first > last)
        {
            Add(here.FromMs, here.ToMs, 1, last);
        }
        else
        {
            Add(here.FromMs, first, 1, first - width);
            Add(first, last, (int)((last - first) / width), first);
            Add(last, here.ToMs, 1, last);
        }

        return new HistorySeries(key.Probe, where, start, min, mean, max, count);

        void Add(long fromMs, long toMs, int buckets, long gridStart)
        {
            if (toMs <= fromMs)
            {
                return;
            }

            ReadingBuckets part = store.Buckets(
                key, Instant.FromUnixTimeMilliseconds(fromMs), Instant.FromUnixTimeMilliseconds(toMs), buckets);
            for (int i = 0; i < part.StartMs.Count; i++)
            {
                start.Add(part.StartMs[i] - fromMs + gridStart);
                min.Add(part.Min[i]);
                mean.Add(part.Mean[i]);
                max.Add(part.Max[i]);
                count.Add(part.Count[i]);
            }
        }
    }
}
