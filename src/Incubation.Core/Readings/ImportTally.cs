using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>A line, or a value of it, that was not taken.</summary>
/// <param name="Line">Number of its first line of text in the file, from 1.</param>
/// <param name="Column">Number of the column, from 1; 0 when it is the whole line.</param>
/// <param name="Reason">Why, with the fix.</param>
/// <param name="Text">How the line begins.</param>
public sealed record ImportRefusal(long Line, int Column, string Reason, string Text);

/// <summary>How often something was refused for one reason.</summary>
/// <param name="Reason">The reason.</param>
/// <param name="Count">How often.</param>
/// <param name="FirstLine">Where first.</param>
public sealed record ImportReason(string Reason, long Count, long FirstLine);

/// <summary>Readings of one probe in a file.</summary>
/// <param name="Name">Its name in the file.</param>
/// <param name="Key">Its key; null when the name stands for none yet.</param>
/// <param name="Count">Lines that name it.</param>
public sealed record ImportProbeCount(string Name, string? Key, long Count);

/// <summary>What became of the lines of a file so far. As many reasons and names as there are of those, which are bounded.</summary>
public sealed class ImportTally
{
    private readonly Dictionary<string, ImportReason> _reasons = new(StringComparer.Ordinal);
    private readonly List<ImportRefusal> _first = [];

    /// <summary>Readings taken.</summary>
    public long Taken { get; set; }

    /// <summary>Lines and values refused.</summary>
    public long Refused { get; set; }

    /// <summary>Time of the earliest reading taken, or null.</summary>
    public Instant? Earliest { get; set; }

    /// <summary>Time of the latest reading taken, or null.</summary>
    public Instant? Latest { get; set; }

    /// <summary>Reasons, the commonest first.</summary>
    public IReadOnlyList<ImportReason> Reasons
    {
        get => [.. _reasons.Values.OrderByDescending(reason => reason.Count).ThenBy(reason => reason.FirstLine)];
        set
        {
            _reasons.Clear();
            foreach (ImportReason reason in value)
            {
                _reasons[reason.Reason] = reason;
            }
        }
    }

    /// <summary>The first refusals, at most <see cref="Limits.ImportRefusalsShown"/>.</summary>
    public IReadOnlyList<ImportRefusal> First
    {
        get => [.. _first];
        set
        {
            _first.Clear();
            _first.AddRange(value);
        }
    }

    /// <summary>Counts a reading.</summary>
    public void Take(Instant at)
    {
        Taken++;
        Earliest = Earliest is { } earliest && earliest <= at ? earliest : at;
        Latest = Latest is { } latest && latest >= at ? latest : at;
    }

    /// <summary>Counts a refusal.</summary>
    public void Refuse(ImportRefusal refusal)
    {
        ArgumentNullException.ThrowIfNull(refusal);
        Refused++;
        _reasons[refusal.Reason] = _reasons.TryGetValue(refusal.Reason, out ImportReason? known)
            ? known with { Count = known.Count + 1 }
            : new ImportReason(refusal.Reason, 1, refusal.Line);
        if (_first.Count < Limits.ImportRefusalsShown)
        {
            _first.Add(refusal);
        }
    }
}
