using Incubation.Core.Readings;
using Incubation.Storage.Readings;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;

namespace Incubation.Service.Tests.Readings;

/// <summary>The real store, which tests can make wait or fail before a commit.</summary>
internal sealed class GatedStore(SqliteReadingStore store) : IReadingStore
{
    private int _commits;
    private bool _open;

    /// <summary>Called with the number of the commit, from 1, before it; what it throws is what the caller gets.</summary>
    public Func<int, Task> Before { get; set; } = _ => Task.CompletedTask;

    public int Commits => Volatile.Read(ref _commits);

    public static void Register(IServiceCollection services)
    {
        services.AddSingleton<GatedStore>();
        services.AddSingleton<IReadingStore>(s => s.GetRequiredService<GatedStore>());
    }

    public async Task StoreAsync(ReadOnlyMemory<Reading> readings, CancellationToken cancellationToken)
    {
        await Before(Interlocked.Increment(ref _commits));
        await store.StoreAsync(readings, cancellationToken);
    }

    public IReadOnlyList<Reading> Read(SeriesKey series, Instant from, Instant to) => store.Read(series, from, to);

    public ReadingBuckets Buckets(SeriesKey series, Instant from, Instant to, int buckets, Correction correction) => store.Buckets(series, from, to, buckets, correction);

    // The service asks for the newest before anything else, and opens only a store that it knows by name.
    public IReadOnlyList<Reading> Latest()
    {
        if (!_open)
        {
            store.Open();
            _open = true;
        }

        return store.Latest();
    }
}
