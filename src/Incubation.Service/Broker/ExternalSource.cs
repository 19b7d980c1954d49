using Incubation.Core.FirstScreen;
using Incubation.Service.Hosting;
using Microsoft.Extensions.Options;
using NodaTime;

namespace Incubation.Service.Broker;

/// <summary>What is known of the external broker at this moment. Written by the owner of the connection, read by the screens.</summary>
internal sealed class ExternalSource : IReadingSource, IServiceTroubles
{
    private readonly Lock _gate = new();
    private readonly ServiceClock _clock;
    private readonly string _broker;
    private Instant _startedAt;
    private Instant? _connectedSince;
    private Instant? _heardAt;
    private BrokerLoss? _loss;

    public ExternalSource(ServiceClock clock, IOptions<IncubationOptions> options)
    {
        _clock = clock;
        _startedAt = clock.Steady;
        Health = new SourceHealth(TimeSpan.FromSeconds(options.Value.Test.HeartbeatSeconds));
        _broker = new LossWords(options.Value.Mqtt.External, "").Broker;
    }

    public SourceHealth Health { get; }

    /// <summary>Why nothing is stored, or null; told beside the connection.</summary>
    public Func<string?> StoreTrouble { get; set; } = static () => null;

    /// <summary>Time since our own message was last heard, or since the start.</summary>
    public TimeSpan UnheardFor
    {
        get
        {
            lock (_gate)
            {
                return (_clock.Steady - (_heardAt ?? _startedAt)).ToTimeSpan();
            }
        }
    }

    public void Started()
    {
        lock (_gate)
        {
            _startedAt = _clock.Steady;
        }
    }

    public void Connected()
    {
        lock (_gate)
        {
            _connectedSince = _clock.Steady;
        }
    }

    public void Heard()
    {
        lock (_gate)
        {
            _heardAt = _clock.Steady;
            _loss = null;
        }
    }

    public void Lost(BrokerLoss loss)
    {
        lock (_gate)
        {
            _connectedSince = null;
            _loss = loss;
        }
    }

    public ReadingSourceView Now()
    {
        (SourceState state, Instant? since, Instant? heard, string? why) = Read();
        string words = state switch
        {
            SourceState.Listening => $"Listening through {_broker}; the service's own message comes back.",
            SourceState.Starting => why is null ? $"Connecting to {_broker}." : $"{why} It is tried again.",
            SourceState.Reconnecting => $"{why ?? $"The connection to {_broker} was lost."} It is made again.",
            _ => $"Listening is broken. {why ?? $"Nothing comes back from {_broker}."}",
        };
        if (StoreTrouble() is { } trouble)
        {
            words += $" Readings can't be stored, so they are not acknowledged, and the broker holds back what follows: {trouble}";
        }

        return new ReadingSourceView("external", state switch
        {
            SourceState.Starting => "starting",
            SourceState.Listening => "listening",
            SourceState.Reconnecting => "reconnecting",
            _ => "broken",
        }, since is { } s ? _clock.ToWall(s) : null, heard is { } h ? _clock.ToWall(h) : null, words);
    }

    public IEnumerable<ServiceTrouble> Troubles()
    {
        (SourceState state, _, _, string? why) = Read();
        if (state == SourceState.Broken)
        {
            yield return new ServiceTrouble(
                HeadlineTone.Warning, "Listening is broken: no reading can arrive.", why ?? $"Nothing comes back from {_broker}. Look at it and at the network between.");
        }
    }

    private (SourceState State, Instant? Since, Instant? HeardAt, string? Why) Read()
    {
        lock (_gate)
        {
            TimeSpan unheard = (_clock.Steady - (_heardAt ?? _startedAt)).ToTimeSpan();
            return (Health.Judge(_connectedSince is not null, unheard, _heardAt is not null), _connectedSince, _heardAt, _loss?.Words);
        }
    }
}
