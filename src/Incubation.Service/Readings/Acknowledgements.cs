using Incubation.Core.Readings;
using MQTTnet.Packets;
using MQTTnet.Protocol;

namespace Incubation.Service.Readings;

/// <summary>
/// What one connection still has to be told: the broker's PUBACKs and PUBRECs wait here, in the order of their messages (MQTT 5.0, 4.6), each
/// for its own commit. The broker goes on to the client's next message meanwhile. Safe from any thread.
/// </summary>
/// <param name="send">Sends a packet to the client.</param>
/// <param name="hearsReasons">Whether the client understands a refusal; one before MQTT 5 takes every answer for success.</param>
/// <param name="close">Ends the connection, so that the client keeps what it was not answered for.</param>
/// <param name="all">Counts what is owed to everybody.</param>
/// <param name="log">Hears of faults.</param>
internal sealed class Acknowledgements(Func<MqttPacket, Task> send, Func<bool> hearsReasons, Action close, Unanswered all, ILogger log)
{
    private readonly Lock _gate = new();
    private readonly Queue<Owed> _line = new(), _unmade = new();
    private Owed? _inHand;
    private TaskCompletionSource? _room;
    private bool _sending, _ended;

    /// <summary>Who sends by this connection, for the store to know whom it would keep waiting.</summary>
    public ReadingSender Sender { get; } = new();

    public int Count
    {
        get
        {
            lock (_gate)
            {
                return _line.Count;
            }
        }
    }

    /// <summary>Whether so much is owed that no more may be taken from the client.</summary>
    public bool IsFull => Count >= all.Bound;

    /// <summary>The client's next message is about to be judged.</summary>
    public void Received(MqttPublishPacket message)
    {
        lock (_gate)
        {
            _inHand = null;
            if (!_ended && message.QualityOfServiceLevel != MqttQualityOfServiceLevel.AtMostOnce)
            {
                _inHand = new Owed { Id = message.PacketIdentifier, IsAnswered = true };
                _unmade.Enqueue(_inHand);
                Add(_inHand);
            }
        }
    }

    /// <summary>The message in hand is safe when this is done. One of QoS 0 gets no answer, and counts until then.</summary>
    public void Owe(Task commit)
    {
        lock (_gate)
        {
            if (_inHand is { } owed)
            {
                owed.Commit = commit;
                return;
            }

            Add(new Owed { Commit = commit });
        }

        Start();
    }

    /// <summary>The broker's answer to a message; it leaves when its turn has come and the message is safe.</summary>
    public void Answer(MqttPacketWithIdentifier packet)
    {
        lock (_gate)
        {
            // Anything else is left over from the session's connection before: this one has not sent that message, and must not hear that it is safe.
            if (!_unmade.TryPeek(out Owed? owed) || owed.Id != packet.PacketIdentifier)
            {
                return;
            }

            _unmade.Dequeue();
            owed.Answer = packet;
        }

        Start();
    }

    /// <summary>Waits until more may be taken from the client.</summary>
    public async Task RoomAsync(CancellationToken stop)
    {
        while (true)
        {
            Task room;
            lock (_gate)
            {
                if (_line.Count < all.Bound)
                {
                    return;
                }

                _room ??= new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
                room = _room.Task;
            }

            await room.WaitAsync(stop);
        }
    }

    /// <summary>The connection is gone: nothing more is sent, and what is owed is counted down as it is committed.</summary>
    public void End()
    {
        lock (_gate)
        {
            _ended = true;
            foreach (Owed owed in _unmade)
            {
                owed.IsAnswered = false;
            }

            _unmade.Clear();
        }

        Start();
    }

    private void Add(Owed owed)
    {
        _line.Enqueue(owed);
        all.Owed();
    }

    private void Start()
    {
        lock (_gate)
        {
            if (_sending || !IsReady)
            {
                return;
            }

            _sending = true;
        }

        _ = SendAsync();
    }

    private bool IsReady => _line.TryPeek(out Owed? first) && (first.Answer is not null || !first.IsAnswered);

    private async Task SendAsync()
    {
        while (Next() is { } owed)
        {
            await SettleAsync(owed);
            lock (_gate)
            {
                _line.Dequeue();
                if (_room is { } room && _line.Count < all.Bound)
                {
                    _room = null;
                    room.SetResult();
                }
            }

            all.Settled();
        }
    }

    private Owed? Next()
    {
        lock (_gate)
        {
            _sending = IsReady;
            return _sending ? _line.Peek() : null;
        }
    }

    private async Task SettleAsync(Owed owed)
    {
        try
        {
            await owed.Commit;
        }
        catch (StoreUnavailableException error)
        {
            if (owed.Answer is not null && !Refuse(owed.Answer, error.Message))
            {
                Close();
            }
        }
#pragma warning disable CA1031 // Whatever it was, the message is not safe, and the client must keep it.
        catch (Exception error)
#pragma warning restore CA1031
        {
            log.LogError(error, "A reading could not be stored");
            Close();
        }

        if (owed.Answer is null || _ended)
        {
            return;
        }

        try
        {
            await send(owed.Answer);
        }
#pragma warning disable CA1031 // The connection went meanwhile, in whatever way; the client sends again what it was not answered for.
        catch (Exception)
#pragma warning restore CA1031
        {
            Close();
        }
    }

    private bool Refuse(MqttPacket answer, string reason)
    {
        if (!hearsReasons())
        {
            return false;
        }

        switch (answer)
        {
            case MqttPubAckPacket packet:
                (packet.ReasonCode, packet.ReasonString) = (MqttPubAckReasonCode.ImplementationSpecificError, reason);
                return true;
            case MqttPubRecPacket packet:
                (packet.ReasonCode, packet.ReasonString) = (MqttPubRecReasonCode.ImplementationSpecificError, reason);
                return true;
            default:
                return false;
        }
    }

    private void Close()
    {
        End();
        close();
    }

    private sealed class Owed
    {
        public ushort Id { get; init; }
        public bool IsAnswered { get; set; }
        public Task Commit { get; set; } = Task.CompletedTask;
        public MqttPacket? Answer { get; set; }
    }
}
