using Incubation.Core.Alarms;

namespace Incubation.Service.Alarms;

/// <summary>What came of an answer.</summary>
internal enum AnswerOutcome
{
    Answered,
    AlreadyAnswered,
    Over,
    Unknown,
}

/// <summary>The alarms as they stand, and the one way to answer them.</summary>
internal interface IAlarmDesk
{
    /// <summary>All alarms that are not normal, gravest and oldest first.</summary>
    IReadOnlyList<StandingAlarm> Standing();

    /// <summary>"I am on it" for one occurrence of one alarm; silences no other.</summary>
    AnswerOutcome Answer(Guid occurrence, string by);

    /// <summary>Raised after every change, outside the desk's lock.</summary>
    event Action? Changed;
}
