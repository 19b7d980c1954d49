using Incubation.Core.Alarms;
using Incubation.Core.Readings;

namespace Incubation.Core.FirstScreen;

/// <summary>
/// Chooses what is said first. The gravest thing that nobody has taken comes first; "all is well" comes last and only when every
/// incubator is measured, fresh and in its band, and an alarm would reach somebody: what is missing never looks well.
/// </summary>
public static class HeadlineWriter
{
    /// <summary>The headline for these facts.</summary>
    public static Headline Write(FacilityFacts facts)
    {
        Headline headline = Gravest(facts);
        // Behind everything else there is to say; and no word of "all is well" alone while a probe may be lying.
        return facts.ProbeTroubles is not { Count: > 0 } troubles ? headline : headline with
        {
            Detail = string.Join(' ', new[] { headline.Detail, troubles[0], troubles.Count > 1 ? $"{Spoken.Count(troubles.Count - 1, "more probe")} to look at." : null }
                .Where(text => text is not null)),
        };
    }

    private static Headline Gravest(FacilityFacts facts)
        => FromEggs(facts) is { } eggs ? StoreSentence.Beside(eggs, facts) : StoreSentence.Alone(facts) ?? Calm(facts);

    private static Headline? FromEggs(FacilityFacts facts)
        => FromTroubles(facts) ?? FromAlarms(facts) ?? FromNoIncubator(facts) ?? FromWhatIsNotKnown(facts) ?? FromWhatIsOutside(facts)
            ?? FromClock(facts) ?? FromCalling(facts);

    /// <summary>Gravest first: nobody on it before somebody on it before over; danger before warning; oldest first.</summary>
    public static IEnumerable<AlarmFacts> ByUrgency(IEnumerable<AlarmFacts> alarms) => alarms
        .OrderBy(a => a.Alarm.State switch { AlarmState.Unacknowledged => 0, AlarmState.Acknowledged => 1, _ => 2 })
        .ThenByDescending(a => a.Alarm.Key.Severity)
        .ThenBy(a => a.Alarm.Key.Condition == AlarmCondition.OwnTrouble)
        .ThenBy(a => a.Alarm.RaisedAt)
        .ThenBy(a => a.Alarm.Occurrence);

    // An alarm that stands is about eggs and comes first; one that is over is older news than a service that hears nothing.
    private static Headline? FromTroubles(FacilityFacts facts)
    {
        ServiceTrouble[] troubles = NotStanding(facts);
        if (troubles is not [ServiceTrouble first, ..] || facts.Alarms.Any(a => a.Alarm.State != AlarmState.ReturnedUnacknowledged))
        {
            return null;
        }

        string[] others = [.. troubles.Skip(1).Select(t => t.Sentence), .. ByUrgency(facts.Alarms).Take(1).Select(a => $"Also: {AlarmSentence.What(a, facts.Now, facts.Scale)}")];
        return new Headline(first.Tone, first.Sentence, first.Next, others.Length == 0 ? null : string.Join(' ', others), null, null);
    }

    private static Headline? FromAlarms(FacilityFacts facts)
    {
        AlarmFacts[] ordered = [.. ByUrgency(facts.Alarms)];
        if (ordered.Length == 0)
        {
            return null;
        }

        AlarmFacts first = ordered[0];
        bool danger = facts.Alarms.Any(a => a.Alarm.Key.Severity == AlarmSeverity.Danger && a.Alarm.State != AlarmState.ReturnedUnacknowledged);
        string incubator = first.Alarm.Key.Incubator;
        return new Headline(
            danger ? HeadlineTone.Danger : HeadlineTone.Warning,
            AlarmSentence.What(first, facts.Now, facts.Scale),
            AlarmSentence.Who(first.Alarm, facts.Zone, facts.SomebodyIsCalled),
            Beside(facts, first.Alarm.Key, Others(ordered, facts)),
            first.Alarm.Occurrence,
            incubator.Length == 0 ? null : incubator);
    }

    // Of the alarm that is said: why and what to do; of the others: that there is something more.
    private static string? Beside(FacilityFacts facts, AlarmKey said, string? others)
    {
        string? more = said.Condition == AlarmCondition.OwnTrouble && facts.Troubles?.FirstOrDefault(t => t.Kind == said.Probe) is { } cause
            ? cause.Next
            : NotStanding(facts).FirstOrDefault()?.Sentence;
        return more is null ? others : others is null ? more : $"{more} {others}";
    }

    // A trouble that people are called for is among the alarms, and said once.
    private static ServiceTrouble[] NotStanding(FacilityFacts facts) =>
        [.. (facts.Troubles ?? []).Where(t => t.Kind is null || !facts.Alarms.Any(a => a.Alarm.Key == OwnTroubles.KeyOf(t.Kind)))];

    private static string? Others(AlarmFacts[] ordered, FacilityFacts facts) => ordered.Length switch
    {
        1 => null,
        2 => $"Also: {AlarmSentence.What(ordered[1], facts.Now, facts.Scale)} {AlarmSentence.Who(ordered[1].Alarm, facts.Zone, facts.SomebodyIsCalled)}",
        _ => $"{Spoken.Count(ordered.Length - 1, "more alarm")} below. The next: {AlarmSentence.What(ordered[1], facts.Now, facts.Scale)}",
    };

    private static Headline? FromNoIncubator(FacilityFacts facts) => facts.Incubators.Count > 0 ? null : new Headline(
        HeadlineTone.Unknown, "No incubator is watched yet.", "Name your first incubator; it gets a band that you can change.", null, null, null);

    private static Headline? FromWhatIsNotKnown(FacilityFacts facts)
    {
        string[] bare = [.. facts.Incubators.Where(IsBare).Select(i => i.Name)];
        IncubatorFacts? unseen = facts.Incubators.FirstOrDefault(i => !IsBare(i) && i.Quantities.Any(IsNotKnown));
        if (unseen is not null)
        {
            QuantityFacts quantity = unseen.Quantities.First(IsNotKnown);
            return new Headline(
                HeadlineTone.Unknown, NotKnown(unseen, quantity), "Look at the probe, its power and its network.",
                bare.Length == 0 ? null : NoProbe(bare), null, unseen.Key);
        }

        return bare.Length == 0 ? null : new Headline(
            HeadlineTone.Unknown, NoProbe(bare), "Place a probe there, or take the incubator out of use.", null, null,
            facts.Incubators.First(IsBare).Key);
    }

    private static bool IsBare(IncubatorFacts incubator) => !incubator.HasProbe || incubator.Quantities.Count == 0;

    // Temperature must have a band; other quantities may be kept for the record only.
    private static bool IsNotKnown(QuantityFacts quantity)
        => quantity.Quality != ReadingQuality.Good || quantity.Value is null || quantity.Unheard.Count > 0
            || (quantity.Standing == BandStanding.NotJudged && quantity.Quantity == Quantity.Temperature);

    private static string NotKnown(IncubatorFacts incubator, QuantityFacts quantity)
    {
        string name = quantity.Quantity.Name;
        if (quantity.Quality == ReadingQuality.Good && quantity.Unheard.Count > 0)
        {
            return $"In {incubator.Name}, {Spoken.List(quantity.Unheard)} {(quantity.Unheard.Count == 1 ? "sends" : "send")} no good {name}.";
        }

        return quantity.Quality switch
        {
            ReadingQuality.Good => $"The {name} of {incubator.Name} is measured but not watched: it has no band.",
            ReadingQuality.Faulty => $"The {name} of {incubator.Name} is not known: its probe is faulty.",
            ReadingQuality.Silent => $"The {name} of {incubator.Name} is not known: its probe is silent.",
            _ => $"The {name} of {incubator.Name} is not known: nothing has been heard yet.",
        };
    }

    private static string NoProbe(string[] names)
        => $"{Spoken.List(names)} {(names.Length == 1 ? "has" : "have")} no probe: nobody knows how warm it is there.";

    private static Headline? FromWhatIsOutside(FacilityFacts facts)
    {
        foreach (IncubatorFacts incubator in facts.Incubators)
        {
            foreach (QuantityFacts quantity in incubator.Quantities.Where(q => q.Standing is not (BandStanding.InBand or BandStanding.NotJudged)))
            {
                string side = quantity.Standing is BandStanding.WarningHigh or BandStanding.DangerHigh ? "above" : "below";
                return new Headline(
                    HeadlineTone.Warning,
                    $"{incubator.Name} is at {Spoken.Value(quantity.Value!.Value, quantity.Quantity, facts.Scale)}, {side} its band.",
                    facts.SomebodyIsCalled ? "If it stays there, an alarm is raised and people are called." : "If it stays there, an alarm is raised, but nobody would be called.",
                    null, null, incubator.Key);
            }
        }

        return null;
    }

    // Readings and alarms go on, but no date on the screen can be relied on.
    private static Headline? FromClock(FacilityFacts facts) => facts.ClockDoubt is null ? null : new Headline(
        HeadlineTone.Warning, $"{InBands(facts)}, but the clock of this machine is not trusted: dates and times may be too early.",
        "Connect the machine to its time server, or set its clock.", facts.ClockDoubt, null, null);

    private static Headline? FromCalling(FacilityFacts facts) => facts.SomebodyIsCalled ? null : new Headline(
        HeadlineTone.Warning, $"{InBands(facts)}, but nobody would be called if that changed.",
        facts.FirstToDo ?? "Say who is called at night, and try it once.", null, null, null);

    private static Headline Calm(FacilityFacts facts)
    {
        double[] temperatures = [.. facts.Incubators.SelectMany(i => i.Quantities).Where(q => q.Quantity == Quantity.Temperature).Select(q => q.Value!.Value)];
        string? range = temperatures.Length == 0 ? null
            : $"Temperatures from {Spoken.Value(temperatures.Min(), Quantity.Temperature, facts.Scale)} to {Spoken.Value(temperatures.Max(), Quantity.Temperature, facts.Scale)}.";
        return new Headline(HeadlineTone.Calm, $"All is well: {InBands(facts, lower: true)}.", facts.FirstToDo ?? "Nothing to do.", range, null, null);
    }

    private static string InBands(FacilityFacts facts, bool lower = false)
    {
        int count = facts.Incubators.Count;
        string one = facts.Incubators[0].Name;
        return count == 1 ? $"{one} is in its band" : $"{(lower ? "all" : "All")} {Spoken.Count(count, "incubator")} are in their bands";
    }
}
