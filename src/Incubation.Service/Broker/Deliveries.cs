using System.Buffers;
using System.Threading.Channels;
using Incubation.Core;
using Incubation.Core.Readings;
using Incubation.Service.Readings;
using MQTTnet.Protocol;

namespace Incubation.Service.Broker;

/// <summary>
/// Takes what has arrived, in that order: judged at once, acknowledged when it is on disk. What can't be read is listed and then
/// acknowledged, or it would come back for ever. What can't be stored is not acknowledged, and tried again with the times it came with.
/// </summary>
internal sealed class Deliveries(
    Handover handover, ReadingIntake intake, IReadingStore store, Redeliveries redeliveries, TimeProvider time, ILogger log) : IDisposable
{
    /// <summary>How long an acknowledgement may take to leave.</summary>
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(10);
    private static readonly TimeSpan FirstPause = TimeSpan.FromSeconds(1), LongestPause = TimeSpan.FromSeconds(15);

    private readonly Channel<(Arrival Arrival, IntakeResult Result)> _uncommitted = Channel.CreateBounded<(Arrival, IntakeResult)>(
        new BoundedChannelOptions(Limits.UnacknowledgedMessages) { SingleReader = true, SingleWriter = true });
    private readonly ReadingSender _sender = new();
    private readonly SemaphoreSlim _wire = new(1, 1);
    private int _connection;
    private volatile string? _trouble;

    /// <summary>Why nothing is acknowledged at the moment, or null.</summary>
    public string? Trouble => _trouble;

    /// <summary>A new connection: what came by the old one can't be acknowledged any more, and comes again.</summary>
    public async Task<int> NextConnectionAsync(CancellationToken cancellationToken)
    {
        await _wire.WaitAsync(cancellationToken);
        try
        {
            return Interlocked.Increment(ref _connection);
        }
        finally
        {
            _wire.Release();
        }
    }

    /// <summary>Runs until the hand-over is closed and everything in it is settled, or until stopped.</summary>
    public async Task RunAsync(CancellationToken stop)
    {
        using CancellationTokenSource ended = CancellationTokenSource.CreateLinkedTokenSource(stop);
        Task settle = SettleAsync(ended.Token);
        try
        {
            await TakeAsync(ended.Token);
            _uncommitted.Writer.Complete();
            await settle;
        }
        catch
        {
            await ended.CancelAsync();
            throw;
        }
    }

    public void Dispose() => _wire.Dispose();

    private async Task TakeAsync(CancellationToken stop)
    {
        await foreach (Arrival arrival in handover.Reader.ReadAllAsync(stop))
        {
            // One that comes again waits here for its first delivery, which is settled before it.
            IntakeResult result = redeliveries.IsTakenAlready(arrival) ? IntakeResult.Done : Take(arrival);
            await _uncommitted.Writer.WriteAsync((arrival, result), stop);
        }
    }

    private IntakeResult Take(Arrival arrival)
    {
        ReadOnlySequence<byte> payload = new(arrival.Payload);
        try
        {
            return intake.Take(arrival.Topic, payload, arrival.IsKept ? Delivery.Kept : Delivery.Subscribed, _sender);
        }
#pragma warning disable CA1031 // Whatever is wrong with one message, the next must be heard; this one is listed, and the log has the trace.
        catch (Exception error)
#pragma warning restore CA1031
        {
            log.LogError(error, "A message on {Topic} could not be taken", arrival.Topic);
            return intake.Reject(arrival.Topic, payload, "The service failed on this message; its log says why.", MqttPubAckReasonCode.UnspecifiedError);
        }
    }

    private async Task SettleAsync(CancellationToken stop)
    {
        await foreach ((Arrival arrival, IntakeResult result) in _uncommitted.Reader.ReadAllAsync(stop))
        {
            await CommitAsync(result, stop);
            if (arrival.WantsAcknowledgement && await TryAcknowledgeAsync(arrival, stop))
            {
                redeliveries.Acknowledged(arrival);
            }
        }
    }

    private async Task CommitAsync(IntakeResult result, CancellationToken stop)
    {
        Task commit = result.Commit;
        for (TimeSpan pause = TimeSpan.Zero; ; pause = Next(pause))
        {
            try
            {
                await commit;
                if (_trouble is not null)
                {
                    _trouble = null;
                    log.LogInformation("Readings of the external broker are stored and acknowledged again");
                }

                return;
            }
            catch (StoreUnavailableException error)
            {
                if (_trouble is null)
                {
                    log.LogError(error, "Readings of the external broker can't be stored; they are not acknowledged, and tried again");
                }

                _trouble = error.Message;
            }

            await Task.Delay(pause, time, stop);
            commit = store.StoreAsync(result.Readings, CancellationToken.None);
        }
    }

    private static TimeSpan Next(TimeSpan pause)
        => pause == TimeSpan.Zero ? FirstPause : pause * 2 < LongestPause ? pause * 2 : LongestPause;

    private async Task<bool> TryAcknowledgeAsync(Arrival arrival, CancellationToken stop)
    {
        await _wire.WaitAsync(stop);
        try
        {
            if (arrival.Connection != _connection)
            {
                return false;
            }

            using CancellationTokenSource late = new(Patience, time);
            using CancellationTokenSource end = CancellationTokenSource.CreateLinkedTokenSource(late.Token, stop);
            await arrival.AcknowledgeAsync(end.Token);
            return true;
        }
#pragma warning disable CA1031 // The connection went meanwhile, in whatever way: the message comes again.
        catch (Exception error) when (!stop.IsCancellationRequested)
#pragma warning restore CA1031
        {
            log.LogDebug(error, "An acknowledgement did not leave");
            return false;
        }
        finally
        {
            _wire.Release();
        }
    }
}
