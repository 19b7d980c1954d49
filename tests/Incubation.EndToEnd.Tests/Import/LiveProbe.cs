using Incubation.Core.Readings;
using Incubation.EndToEnd.Tests.Instruments;

namespace Incubation.EndToEnd.Tests.Import;

/// <summary>A probe that sends its next reading as soon as its last is acknowledged.</summary>
internal sealed class LiveProbe : IAsyncDisposable
{
    public static readonly SeriesKey Series = new("live", Quantity.Temperature);

    private readonly CancellationTokenSource _halt = new(), _end;
    private readonly RawPublisher _publisher;
    private readonly ReadingPayload _payload;
    private Task _running = Task.CompletedTask;

    private LiveProbe(int round, CancellationToken stop)
    {
        // Within the 30 days that the service believes a probe's clock; each round has times of its own.
        _payload = new ReadingPayload("value", "at", TimeProvider.System.GetUtcNow().AddDays(-25 + (round * 8)));
        _publisher = new RawPublisher("incubation/hazel/live/temperature", 1, _payload.Write, keepIds: true);
        _end = CancellationTokenSource.CreateLinkedTokenSource(stop);
    }

    public long Heard => _publisher.Acknowledged;

    public static async Task<LiveProbe> StartAsync(int port, int round, CancellationToken stop)
    {
        LiveProbe probe = new(round, stop);
        await probe._publisher.ConnectAsync(port, "live", stop);
        probe._running = Task.Run(() => probe._publisher.RunAsync(probe._halt.Token, probe._end.Token), stop);
        return probe;
    }

    public Task HeardMoreAsync(CancellationToken stop)
    {
        long before = Heard;
        return Waiting.UntilAsync(() => Task.FromResult(Heard > before + 20), TimeSpan.FromSeconds(60), "live readings to be acknowledged", stop);
    }

    /// <summary>Ends the sending; Unix milliseconds of every reading that was acknowledged.</summary>
    public async Task<IReadOnlyList<long>> EndAsync()
    {
        await _halt.CancelAsync();
        await _running;
        return [.. _publisher.AcknowledgedIds.Select(_payload.Milliseconds)];
    }

    public async ValueTask DisposeAsync()
    {
        await _halt.CancelAsync();
        await _end.CancelAsync();
        await _running;
        _publisher.Dispose();
        _halt.Dispose();
        _end.Dispose();
    }
}
