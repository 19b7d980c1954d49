using Incubation.Core.Clutches;
using NodaTime;

namespace Incubation.Core.Care;

/// <summary>What a person did to a tub or an incubator.</summary>
public enum CareKind
{
    /// <summary>Lifted the lid or opened the door.</summary>
    Lid,

    /// <summary>Added water.</summary>
    Water,

    /// <summary>Changed or switched a fan: moving air dries eggs (Phillips, Jajack &amp; Yoder 2014).</summary>
    Fan,

    /// <summary>Moved the tub.</summary>
    Move,

    /// <summary>Turned an egg, by accident or need.</summary>
    Turn,

    /// <summary>Cleaned.</summary>
    Cleaning,

    /// <summary>Anything else; the note says what.</summary>
    Other,
}

/// <summary>What was cared for.</summary>
public enum CareTarget
{
    /// <summary>A tub.</summary>
    Tub,

    /// <summary>An incubator.</summary>
    Incubator,
}

/// <summary>One line of the care log; never changed, corrected by another line.</summary>
/// <param name="Id">Made by the client, so that sending it again changes nothing.</param>
/// <param name="On">Tub or incubator.</param>
/// <param name="Key">Its key.</param>
/// <param name="Kind">What was done.</param>
/// <param name="WaterGrams">Water added, g, or null.</param>
/// <param name="Note">The keeper's note, or empty.</param>
/// <param name="By">Who did it.</param>
/// <param name="At">When.</param>
public sealed record CareEntry(
    Guid Id, CareTarget On, string Key, CareKind Kind, double? WaterGrams, string Note, string By, Instant At);

/// <summary>Words and rules of the care log.</summary>
public static class CareLog
{
    /// <summary>All kinds in the order they are offered.</summary>
    public static IReadOnlyList<CareKind> Kinds { get; } = Enum.GetValues<CareKind>();

    /// <summary>The word on the button.</summary>
    public static string Word(CareKind kind) => kind switch
    {
        CareKind.Lid => "lid",
        CareKind.Water => "water",
        CareKind.Fan => "fan",
        CareKind.Move => "move",
        CareKind.Turn => "turn",
        CareKind.Cleaning => "cleaning",
        _ => "other",
    };

    /// <summary>The kind of a word, or null.</summary>
    public static CareKind? Kind(string? word) =>
        Kinds.Where(kind => Word(kind) == word).Select(kind => (CareKind?)kind).FirstOrDefault();

    /// <summary>Checks a line as entered.</summary>
    /// <param name="entry">The line.</param>
    /// <param name="now">Now; a phone's clock may be 5 minutes ahead.</param>
    public static IEnumerable<Remark> Check(CareEntry entry, Instant now)
    {
        ArgumentNullException.ThrowIfNull(entry);
        if (entry.At > now + Duration.FromMinutes(5))
        {
            yield return Remark.Refused("at", "The time is still to come: check the clock of the phone.");
        }

        if (entry.WaterGrams is { } grams && !(grams is > 0 and <= 50_000))
        {
            yield return Remark.Refused("waterGrams", "Water added is more than 0 and at most 50,000 g, or left out.");
        }
        else if (entry.WaterGrams is not null && entry.Kind != CareKind.Water)
        {
            yield return Remark.Refused("waterGrams", "Only the kind \"water\" has grams of water.");
        }

        if (entry.Note.Length > Limits.NoteLength)
        {
            yield return Remark.Refused("note", $"A note has at most {Limits.NoteLength} characters.");
        }
        else if (entry.Kind == CareKind.Other && string.IsNullOrWhiteSpace(entry.Note))
        {
            yield return Remark.Refused("note", "Say in the note what was done.");
        }

        if (entry.Kind == CareKind.Turn)
        {
            yield return Remark.Said("kind",
                "Note which egg it was, and mark its top. In one study of water snakes turned eggs hatched as well, "
                + "but more of their young died (Aubret, Blanvillain & Kok 2015).");
        }
    }
}
