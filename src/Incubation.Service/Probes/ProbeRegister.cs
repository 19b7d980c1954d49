using System.Collections.Concurrent;
using System.Threading.Channels;
using Incubation.Core;
using Incubation.Service.Live;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Incubation.Service.Probes;

/// <summary>
/// Every probe ever heard. A new one is known at once, in memory; <see cref="ProbeRecorder"/> writes it down behind, so that a slow disk
/// holds no message up.
/// </summary>
internal sealed class ProbeRegister(IDbContextFactory<RecordsContext> records, ILiveFeed feed) : IDisposable
{
    private readonly ConcurrentDictionary<string, KnownProbe> _probes = new(StringComparer.Ordinal);
    private readonly Channel<byte> _news = Channel.CreateBounded<byte>(
        new BoundedChannelOptions(1) { FullMode = BoundedChannelFullMode.DropWrite });

    private readonly SemaphoreSlim _recording = new(1, 1);
    private int _count;

    public IEnumerable<KnownProbe> All => _probes.Values;

    public KnownProbe? Find(string key) => _probes.GetValueOrDefault(key);

    /// <summary>The probe of that name, new or known; null when <see cref="Limits.Probes"/> are known already.</summary>
    public KnownProbe? Hear(string key, Instant at)
    {
        if (_probes.TryGetValue(key, out KnownProbe? known))
        {
            return known;
        }

        if (Interlocked.Increment(ref _count) > Limits.Probes)
        {
            Interlocked.Decrement(ref _count);
            return null;
        }

        KnownProbe fresh = new(key, null, at, recorded: false);
        if (!_probes.TryAdd(key, fresh))
        {
            Interlocked.Decrement(ref _count);
            return _probes.GetValueOrDefault(key);
        }

        _news.Writer.TryWrite(0);
        feed.Publish("facility", new { });
        return fresh;
    }

    /// <summary>Reads the probes from the records; called once before the first message may arrive.</summary>
    public async Task LoadAsync(CancellationToken cancellationToken)
    {
        await using RecordsContext context = await records.CreateDbContextAsync(cancellationToken);
        foreach (ProbeRecord probe in await context.Probes.AsNoTracking().ToListAsync(cancellationToken))
        {
            if (_probes.TryAdd(probe.Key, new KnownProbe(probe.Key, probe.Name, probe.FirstHeardAt, recorded: true)))
            {
                _count++;
            }
        }
    }

    /// <summary>Completes when there may be probes that are not recorded yet.</summary>
    public ValueTask<byte> NewsAsync(CancellationToken cancellationToken) => _news.Reader.ReadAsync(cancellationToken);

    /// <summary>Writes down what is not recorded yet. What fails stays waiting.</summary>
    public async Task RecordAsync(CancellationToken cancellationToken)
    {
        // The recorder and a keeper who places a probe at once both come here; only one may add its row.
        await _recording.WaitAsync(cancellationToken);
        try
        {
            await RecordFreshAsync(cancellationToken);
        }
        finally
        {
            _recording.Release();
        }
    }

    private async Task RecordFreshAsync(CancellationToken cancellationToken)
    {
        List<KnownProbe> fresh = [.. _probes.Values.Where(p => !p.Recorded)];
        if (fresh.Count == 0)
        {
            return;
        }

        try
        {
            await using RecordsContext context = await records.CreateDbContextAsync(cancellationToken);
            HashSet<string> written = [.. await context.Probes.Select(p => p.Key).ToListAsync(cancellationToken)];
            foreach (KnownProbe probe in fresh.Where(p => !written.Contains(p.Key)))
            {
                context.Probes.Add(Record(probe));
            }

            await context.SaveChangesAsync(cancellationToken);
        }
        catch
        {
            _news.Writer.TryWrite(0);
            throw;
        }

        fresh.ForEach(p => p.Recorded = true);
    }

    /// <summary>The record of a probe in <paramref name="context"/>, written first when it isn't there yet; null when the probe was never heard.</summary>
    public async Task<ProbeRecord?> RecordOfAsync(RecordsContext context, string key, CancellationToken cancellationToken)
    {
        ProbeRecord? record = await context.Probes.FindAsync([key], cancellationToken);
        if (record is null && Find(key) is not null)
        {
            await RecordAsync(cancellationToken);
            record = await context.Probes.FindAsync([key], cancellationToken);
        }

        return record;
    }

    public void Dispose() => _recording.Dispose();

    private static ProbeRecord Record(KnownProbe probe)
        => new() { Key = probe.Key, Name = probe.Name, FirstHeardAt = probe.FirstHeardAt };
}
