using System.Collections.Concurrent;
using Incubation.Core.Readings;
using Incubation.Service.Hosting;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Incubation.Service.Probes;

/// <summary>
/// When each person last looked at a probe's least and most, and what they are since. What was found is kept, so that the next asking reads
/// only what came since.
/// </summary>
internal sealed class ProbeLooks(IDbContextFactory<RecordsContext> records, IReadingHistory history, ICorrections corrections, ServiceClock clock)
    : IStartupStep
{
    /// <summary>Findings kept; at the bound all are found anew. A few people and a few hundred series fit.</summary>
    private const int MostKept = 20_000;

    private const int Buckets = 1_000;

    // Nobody asks for the least of a whole year; a look longer ago counts from here.
    private static readonly Duration Furthest = Duration.FromDays(40);

    // A reading is heard before it is stored, and a probe may send a few minutes late: so much is looked at again.
    private static readonly Duration Again = Duration.FromMinutes(10);

    private readonly ConcurrentDictionary<(string Person, string Probe), Instant> _looks = new();
    private readonly ConcurrentDictionary<(string Person, SeriesKey Series), Found> _found = new();

    public StartupStage Stage => StartupStage.Recall;

    public async Task RunAsync(CancellationToken cancellationToken)
    {
        await using RecordsContext context = await records.CreateDbContextAsync(cancellationToken);
        foreach (ProbeLookRecord look in await context.Set<ProbeLookRecord>().AsNoTracking().ToListAsync(cancellationToken))
        {
            _looks[(look.Person, look.Probe)] = look.At;
        }
    }

    /// <summary>Notes that a person has seen a probe's least and most now.</summary>
    public async Task LookAsync(string person, string probe, CancellationToken cancellationToken)
    {
        Instant now = clock.Wall;
        await using RecordsContext context = await records.CreateDbContextAsync(cancellationToken);
        // Two phones of one person may look at once: the last word holds.
        if (await context.Set<ProbeLookRecord>().Where(l => l.Person == person && l.Probe == probe)
            .ExecuteUpdateAsync(set => set.SetProperty(l => l.At, now), cancellationToken) == 0)
        {
            context.Add(new ProbeLookRecord { Person = person, Probe = probe, At = now });
            try
            {
                await context.SaveChangesAsync(cancellationToken);
            }
            catch (DbUpdateException) when (_looks.ContainsKey((person, probe)))
            {
                // The other phone was first; it is the same moment for all that anybody reads.
            }
        }

        _looks[(person, probe)] = now;
    }

    /// <summary>Least and most of a series since the person has last looked; null before the first look, and when nothing good came since.</summary>
    public LookedView? Since(string person, SeriesKey series)
    {
        if (!_looks.TryGetValue((person, series.Probe), out Instant look))
        {
            return null;
        }

        Instant now = clock.Wall, since = Instant.Max(look, now - Furthest);
        Correction correction = corrections.Of(series);
        Found? kept = _found.GetValueOrDefault((person, series));
        bool holds = kept is not null && kept.Look == look && ReferenceEquals(kept.Correction, correction) && kept.View?.LeastAt >= since && kept.View.MostAt >= since;
        LookedView? view = holds ? kept!.View : null;
        Instant from = holds ? Instant.Max(since, kept!.Until - Again) : since;
        view = Join(view, Find(series, since, from, now + Duration.FromMilliseconds(1)));
        if (_found.Count >= MostKept)
        {
            _found.Clear();
        }

        _found[(person, series)] = new Found(look, correction, now, view);
        return view;
    }

    private LookedView? Find(SeriesKey series, Instant since, Instant from, Instant until)
    {
        if (until <= from)
        {
            return null;
        }

        int buckets = (int)Math.Clamp((until - from).TotalMinutes, 1, Buckets);
        ReadingBuckets found = history.Buckets(series, from, until, buckets);
        if (found.Count.Count == 0)
        {
            return null;
        }

        int least = 0, most = 0;
        for (int i = 1; i < found.Count.Count; i++)
        {
            least = found.Min[i] < found.Min[least] ? i : least;
            most = found.Max[i] > found.Max[most] ? i : most;
        }

        return new LookedView(
            since, found.Min[least], Exact(series, found, least, until, found.Min[least]), found.Max[most], Exact(series, found, most, until, found.Max[most]));
    }

    // The moment itself, from the readings of the bucket that holds it.
    private Instant Exact(SeriesKey series, ReadingBuckets found, int bucket, Instant until, double value)
    {
        Instant start = Instant.FromUnixTimeMilliseconds(found.StartMs[bucket]);
        Instant end = Instant.Min(until, start + Duration.FromMilliseconds(found.WidthMs));
        foreach (Reading reading in history.Read(series, start, end))
        {
            if (reading.IsGood && Math.Abs(reading.Value - value) < 1e-9)
            {
                return reading.At;
            }
        }

        return start;
    }

    private static LookedView? Join(LookedView? a, LookedView? b)
        => a is null ? b : b is null ? a : new LookedView(
            b.Since, Math.Min(a.Least, b.Least), b.Least < a.Least ? b.LeastAt : a.LeastAt,
            Math.Max(a.Most, b.Most), b.Most > a.Most ? b.MostAt : a.MostAt);

    private sealed record Found(Instant Look, Correction Correction, Instant Until, LookedView? View);
}
