using System.Collections.Immutable;

namespace Incubation.Core.Readings;

/// <summary>
/// All calibrations of a facility, in any order of entry: the same entries give the same corrections. An entry holds while no other
/// supersedes it; of two that hold from the same moment on, the one entered last is used (then the greater id).
/// </summary>
public sealed class CalibrationLog
{
    private readonly ImmutableDictionary<Guid, CalibrationEntry> _entries;
    private readonly ImmutableHashSet<Guid> _superseded;

    private CalibrationLog(ImmutableDictionary<Guid, CalibrationEntry> entries, ImmutableHashSet<Guid> superseded)
        => (_entries, _superseded) = (entries, superseded);

    /// <summary>A log with nothing in it.</summary>
    public static CalibrationLog Empty { get; } = new(ImmutableDictionary<Guid, CalibrationEntry>.Empty, []);

    /// <summary>Number of entries, superseded ones included.</summary>
    public int Count => _entries.Count;

    /// <summary>Every series that was ever calibrated.</summary>
    public IEnumerable<SeriesKey> Series => _entries.Values.Select(entry => entry.Series).Distinct();

    /// <summary>The log with one more entry; one whose id is there already changes nothing.</summary>
    public CalibrationLog With(CalibrationEntry entry)
    {
        ArgumentNullException.ThrowIfNull(entry);
        return _entries.ContainsKey(entry.Id)
            ? this
            : new CalibrationLog(_entries.Add(entry.Id, entry), entry.Supersedes is { } former ? _superseded.Add(former) : _superseded);
    }

    /// <summary>The entry of an id, or null.</summary>
    public CalibrationEntry? Find(Guid id) => _entries.GetValueOrDefault(id);

    /// <summary>Whether an entry is used: nothing supersedes it, and it is no withdrawal.</summary>
    public bool Holds(CalibrationEntry entry)
    {
        ArgumentNullException.ThrowIfNull(entry);
        return entry.Method != CalibrationMethod.Withdrawn && !_superseded.Contains(entry.Id);
    }

    /// <summary>Whether another entry takes the place of this one.</summary>
    public bool IsSuperseded(Guid id) => _superseded.Contains(id);

    /// <summary>Everything entered about a probe, by the time it holds from.</summary>
    public IReadOnlyList<CalibrationEntry> Of(string probe) => [.. InOrder(_entries.Values.Where(entry => entry.Series.Probe == probe))];

    /// <summary>The entries of a series that hold, by the time they hold from.</summary>
    public IReadOnlyList<CalibrationEntry> Holding(SeriesKey series)
        => [.. InOrder(_entries.Values.Where(entry => entry.Series == series && Holds(entry)))];

    /// <summary>What a series is corrected by.</summary>
    public Correction CorrectionOf(SeriesKey series)
    {
        CorrectionPiece[] pieces =
        [
            // The last of those that begin together is the one entered last.
            .. Holding(series).GroupBy(entry => entry.From).Select(together => together.Last())
                .Select(entry => new CorrectionPiece(entry.From, entry.Gain, entry.Offset)),
        ];
        return pieces.Length == 0 ? Correction.None : new Correction(pieces);
    }

    private static IEnumerable<CalibrationEntry> InOrder(IEnumerable<CalibrationEntry> entries)
        => entries.OrderBy(entry => entry.From).ThenBy(entry => entry.EnteredAt).ThenBy(entry => entry.Id);
}
