using Incubation.Core.Readings;

namespace Incubation.Service.Probes;

/// <summary>
/// The corrections of all series, in memory, from the calibrations on record. A correction that stays the same stays the same object, so
/// whoever keeps something that was read by it sees by that whether it still holds.
/// </summary>
internal sealed class Corrections : ICorrections
{
    private volatile Dictionary<SeriesKey, Correction> _known = [];
    private int _changes;

    public int Changes => Volatile.Read(ref _changes);

    public Correction Of(SeriesKey series) => _known.GetValueOrDefault(series, Correction.None);

    public void Become(Dictionary<SeriesKey, Correction> known)
    {
        Dictionary<SeriesKey, Correction> former = _known;
        _known = known.Where(one => !one.Value.IsNone).ToDictionary(
            one => one.Key,
            one => former.TryGetValue(one.Key, out Correction? before) && before.Pieces.SequenceEqual(one.Value.Pieces) ? before : one.Value);
        // After the corrections: who sees the new count reads by the new ones.
        Interlocked.Increment(ref _changes);
    }
}
