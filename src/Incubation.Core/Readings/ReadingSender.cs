namespace Incubation.Core.Readings;

/// <summary>
/// A connection that readings come by, and how long its answers may be held without keeping it from sending the next: one that was seen to go
/// on without being answered may be held, one that might wait for its answer only within its own rhythm. One thread at a time; times in
/// milliseconds on any clock that never jumps.
/// </summary>
public sealed class ReadingSender
{
    /// <summary>So many unanswered messages may be all that a sender lets be in flight: clients' usual bounds are 10, 16 and 20 (from memory), or 1.</summary>
    public const int MostInFlight = 8;

    /// <summary>A sender that waited for its answer is back within this time.</summary>
    private const long BackAtOnceMs = 50;

    /// <summary>One that sent nothing for so long while it went on before may have reached its own bound.</summary>
    private const long SilentMs = 250;

    /// <summary>So much past its rhythm it is held on trial, at the most.</summary>
    private const int TrialMs = 50;

    private const int RarestTrial = 1_024;

    private readonly bool _isAnswered;
    private long _arrivedAt, _answeredAt = -1;
    private double _gap = -1;
    private int _unanswered, _answered, _bound = MostInFlight;
    private int _alone, _trialAt = 16;
    private bool _goesOn, _fellSilent, _onTrial;

    /// <summary>A sender of which nothing is known yet.</summary>
    public ReadingSender() => _isAnswered = true;

    private ReadingSender(bool isAnswered) => _isAnswered = isAnswered;

    /// <summary>Whoever is never answered (MQTT's QoS 0) and so never waits. May be shared.</summary>
    public static ReadingSender NeverAnswered { get; } = new(isAnswered: false);

    /// <summary>How long its oldest unanswered message may be held from its arrival, milliseconds; 0 when it may be waiting.</summary>
    public double PatienceMs
        => !_isAnswered ? double.MaxValue
            : _unanswered >= _bound ? 0
            : _goesOn ? double.MaxValue
            : _gap < 0 ? 0
            // Less than its own rhythm. Now and then a little more: does it go on?
            : _onTrial ? 1.8 * _gap + TrialMs
            : 0.8 * _gap;

    /// <summary>A message of it came.</summary>
    public void Arrived(long now)
    {
        if (!_isAnswered)
        {
            return;
        }

        if (_unanswered > 0)
        {
            _goesOn = true;
        }
        else if (_answeredAt >= 0)
        {
            Learn(now - _answeredAt);
        }

        if (!_goesOn)
        {
            _onTrial = ++_alone >= _trialAt;
            (_alone, _trialAt) = _onTrial ? (0, Math.Min(2 * _trialAt, RarestTrial)) : (_alone, _trialAt);
        }

        _arrivedAt = now;
        if (++_unanswered > _bound)
        {
            _bound = MostInFlight;
        }
    }

    /// <summary>All that came of it so far is answered.</summary>
    public void Answered(long now)
    {
        if (_unanswered > 0)
        {
            _fellSilent = now - _arrivedAt >= SilentMs;
            (_answered, _unanswered, _answeredAt) = (_unanswered, 0, now);
        }
    }

    private void Learn(long sinceAnswer)
    {
        if (_goesOn)
        {
            if (_fellSilent && _answered > 1 && sinceAnswer <= BackAtOnceMs)
            {
                _bound = Math.Min(_bound, _answered);
            }
        }
        else
        {
            // Only the time since its answer is its own; it falls at once, when the sender turns out to wait, and rises slowly.
            _gap = _gap < 0 ? sinceAnswer : Math.Min(sinceAnswer, 1.25 * _gap + 1);
        }
    }
}
