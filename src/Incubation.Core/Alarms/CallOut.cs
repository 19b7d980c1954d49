using NodaTime;

namespace Incubation.Core.Alarms;

/// <summary>One step of the call-out order.</summary>
/// <param name="Id">Names it for good.</param>
/// <param name="Who">Person.</param>
/// <param name="After">How long after the alarm this step is told first; ≥ 0.</param>
/// <param name="Repeat">Time between repeats until someone answers; zero for none.</param>
public sealed record CallStep(Guid Id, string Who, Duration After, Duration Repeat);

/// <summary>What one step has been told about one occurrence.</summary>
/// <param name="Calls">How many calls, over all times it came again.</param>
/// <param name="LastAt">When the last was made.</param>
/// <param name="ToldBack">Whether "back in band" was said after that.</param>
public readonly record struct CallsMade(int Calls, Instant LastAt, bool ToldBack);

/// <summary>A call and its time.</summary>
/// <param name="Step">Which step.</param>
/// <param name="At">When it is due.</param>
/// <param name="Round">0 for the first call of the step about this occurrence, then 1, 2, …</param>
/// <param name="Back">True: says that the alarm is over and nobody answered; false: asks someone to see to it.</param>
public readonly record struct PlannedCall(CallStep Step, Instant At, int Round, bool Back);

/// <summary>
/// Who is called when. Every step is called first its time after the alarm was announced, then at its repeats, until somebody
/// answers; warnings and dangers alike. When the alarm comes again unanswered, the order starts afresh. When it goes back inside before anybody
/// answered, the calls stop and everyone who was called is told so once; it stays on the page until someone answers. Calls that
/// were missed (the machine was off) are made up for by one call, not by all of them.
/// </summary>
public static class CallOut
{
    /// <summary>The next call of one step, or null when there is none to come.</summary>
    /// <param name="step">The step.</param>
    /// <param name="state">State of the alarm.</param>
    /// <param name="announcedAt">When it was last announced.</param>
    /// <param name="returnedAt">When it went back inside, or null.</param>
    /// <param name="made">What the step was told so far.</param>
    public static PlannedCall? Next(CallStep step, AlarmState state, Instant announcedAt, Instant? returnedAt, CallsMade made)
    {
        ArgumentNullException.ThrowIfNull(step);
        if (state == AlarmState.ReturnedUnacknowledged)
        {
            return made.Calls > 0 && !made.ToldBack
                ? new PlannedCall(step, returnedAt ?? made.LastAt, made.Calls, Back: true)
                : null;
        }

        if (!AlarmMachine.IsCalling(state))
        {
            return null;
        }

        bool calledThisTime = made.Calls > 0 && made.LastAt >= announcedAt;
        if (!calledThisTime)
        {
            return new PlannedCall(step, announcedAt + step.After, made.Calls, Back: false);
        }

        return step.Repeat > Duration.Zero ? new PlannedCall(step, made.LastAt + step.Repeat, made.Calls, Back: false) : null;
    }
}
