using Incubation.Core.Alarms;
using Incubation.Service.Alarms;

namespace Incubation.Service.Calling;

/// <summary>What an answer page says.</summary>
/// <param name="Title">What is so.</param>
/// <param name="Gravity">"danger", "warning" or null.</param>
/// <param name="Lines">Sentences below it.</param>
/// <param name="Button">Words on the button, or null for none.</param>
internal sealed record AnswerText(string Title, string? Gravity, IReadOnlyList<string> Lines, string? Button);

/// <summary>Words for whoever opens an answer link: what is wrong, since when, who has it, and whether there is anything to press.</summary>
internal sealed class AnswerWords(IAlarmDesk desk, EndedAlarms ended, CallTests tests, AlarmSpeech speech)
{
    /// <summary>What the page shows now, before anything is pressed or when pressing changed nothing.</summary>
    public AnswerText Of(Guid occurrence, string who)
    {
        if (tests.Find(occurrence) is { } test)
        {
            return OfTest(test);
        }

        StandingAlarm? alarm = desk.Standing().FirstOrDefault(a => a.Occurrence == occurrence);
        if (alarm is null)
        {
            return Over(occurrence);
        }

        string gravity = AlarmRows.Words(alarm.Key.Severity);
        if (alarm.State == AlarmState.Acknowledged)
        {
            bool self = alarm.AnsweredBy == who;
            return new AnswerText(self ? "You are on it" : $"{alarm.AnsweredBy} is on it", gravity,
                [speech.Say(alarm), self ? "The calls about this alarm have stopped." : "Nobody else is called about this alarm."], null);
        }

        string[] lines = [speech.Say(alarm), $"Nobody has answered yet. You answer as {who}."];
        return alarm.State == AlarmState.ReturnedUnacknowledged
            ? new AnswerText($"Back inside: {speech.Line(alarm)}", gravity, lines, "I have seen it")
            : new AnswerText(speech.Line(alarm), gravity, lines, "I am on it");
    }

    /// <summary>What the page shows right after the button answered.</summary>
    public AnswerText Thanks(Guid occurrence, string who)
        => desk.Standing().Any(a => a.Occurrence == occurrence) || ended.Find(occurrence) is null
            ? Of(occurrence, who)
            : new AnswerText("Thank you", null, [$"It is noted that {who} has seen this alarm. It was back to normal already; nothing is left to do here."], null);

    private AnswerText Over(Guid occurrence) => ended.Find(occurrence) is { } over
        ? new AnswerText("This alarm is over", null, [over.Sentence, over.Words, "Nothing is left to do here."], null)
        : new AnswerText("This is over", null, ["What this link was about is long over. Nothing is left to do here."], null);

    private static AnswerText OfTest(CallTestView test) => test.Answered
        ? new AnswerText("The test has arrived", null, [$"It is noted that {test.Who} has seen it. Nothing is wrong, and nothing is left to do here."], null)
        : new AnswerText("This is a test", null,
            ["Nothing is wrong. In an alarm this page says what is wrong, and the button says that you see to it.", $"You answer as {test.Who}."],
            "The test has reached me");
}
