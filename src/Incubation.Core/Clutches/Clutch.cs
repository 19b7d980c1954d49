using Incubation.Core.Genetics;
using NodaTime;

namespace Incubation.Core.Clutches;

/// <summary>When a clutch was laid, as the keeper knows it.</summary>
/// <param name="Date">Local date in the facility's zone.</param>
/// <param name="SlackDays">How many days earlier or later it may have been; 0 when it was seen.</param>
public readonly record struct LayDate(LocalDate Date, int SlackDays);

/// <summary>A clutch as entered.</summary>
/// <param name="Key">Short name that never changes.</param>
/// <param name="Label">What the keeper calls it, "C-07".</param>
/// <param name="Species">Key of the species.</param>
/// <param name="Dam">The mother's name.</param>
/// <param name="Sire">The father's name, or null when there was none or nobody knows.</param>
/// <param name="Laid">When it was laid.</param>
/// <param name="EggCount">Eggs laid, slugs included.</param>
/// <param name="FoundAt">When the eggs were found, or null when they were seen being laid.</param>
/// <param name="FemaleCelsius">Temperature of the female at laying, °C, or null.</param>
/// <param name="AssumedCelsius">Temperature the keeper believes it had while nothing was recorded, °C, or null.</param>
/// <param name="SecondPerson">Who else was there when the eggs were pulled, or null.</param>
/// <param name="EnteredAt">When it was entered; later than the lay date for a clutch entered late.</param>
public sealed record Clutch(
    string Key, string Label, string Species, string Dam, string? Sire, LayDate Laid, int EggCount, Instant? FoundAt,
    double? FemaleCelsius, double? AssumedCelsius, string? SecondPerson, Instant EnteredAt);

/// <summary>What came of an egg.</summary>
public enum OutcomeKind
{
    /// <summary>The shell is slit or the snout is out; the young is still inside.</summary>
    FirstPip,

    /// <summary>The young has left the egg.</summary>
    Out,

    /// <summary>Dead in the egg.</summary>
    DeadInEgg,

    /// <summary>A slug: never fertile.</summary>
    Slug,
}

/// <summary>One outcome as recorded; a correction supersedes and both stay readable.</summary>
/// <param name="Id">Made by the client, so that sending it again changes nothing.</param>
/// <param name="Egg">Number of the egg.</param>
/// <param name="Kind">What came of it.</param>
/// <param name="At">When it was seen.</param>
/// <param name="By">Who recorded it.</param>
/// <param name="Trait">Key of a trait that was looked for on the young, or null.</param>
/// <param name="TraitSeen">What was seen of it on the young, or null when not looked for.</param>
/// <param name="Note">The keeper's note, or empty.</param>
/// <param name="Supersedes">Id of the outcome this one corrects, or null.</param>
public sealed record Outcome(
    Guid Id, int Egg, OutcomeKind Kind, Instant At, string By, string? Trait, TraitSeen? TraitSeen, string Note, Guid? Supersedes);

/// <summary>The words of outcomes as they are shown, sent and stored.</summary>
public static class OutcomeWords
{
    /// <summary>The word of a kind.</summary>
    public static string Word(OutcomeKind kind) => kind switch
    {
        OutcomeKind.FirstPip => "first pip",
        OutcomeKind.Out => "out",
        OutcomeKind.DeadInEgg => "dead in egg",
        _ => "slug",
    };

    /// <summary>The kind of a word, or null.</summary>
    public static OutcomeKind? KindOf(string? word) => Enum.GetValues<OutcomeKind>()
        .Where(kind => Word(kind) == word).Select(kind => (OutcomeKind?)kind).FirstOrDefault();
}
