namespace Incubation.Core.Readings;

/// <summary>
/// The probes that a file names, and which they are. One that the plan doesn't name is itself when it is known already, and else nobody. Safe to
/// be looked at while it counts.
/// </summary>
/// <param name="plan">Which probes the names stand for.</param>
/// <param name="isKnown">Whether a key is that of a probe that is there.</param>
public sealed class ImportProbes(ImportPlan plan, Func<string, bool> isKnown)
{
    private sealed class Named(string name, string? key, string? refusal)
    {
        public readonly string Name = name;
        public readonly string? Key = key, Refusal = refusal;
        public long Count;
    }

    private readonly Dictionary<string, ImportProbe> _told = plan.Probes.ToDictionary(probe => probe.Name, StringComparer.Ordinal);
    private readonly Dictionary<string, Named> _names = new(StringComparer.Ordinal);
    private readonly Lock _gate = new();

    /// <summary>Every name that was met, as often as it was, the commonest first.</summary>
    public IReadOnlyList<ImportProbeCount> Counts
    {
        get
        {
            lock (_gate)
            {
                return [.. _names.Values.OrderByDescending(named => named.Count).Select(named => new ImportProbeCount(named.Name, named.Key, named.Count))];
            }
        }
    }

    /// <summary>Counts a name and says which probe it is.</summary>
    /// <param name="name">The name as it stands in the file.</param>
    /// <param name="key">Key of the probe, or null.</param>
    /// <returns>Null, or why it is none.</returns>
    public string? Find(ReadOnlySpan<char> name, out string? key)
    {
        name = ImportNames.Plain(name);
        key = null;
        if (name.IsEmpty)
        {
            return ImportWords.NoProbe;
        }

        if (!_names.GetAlternateLookup<ReadOnlySpan<char>>().TryGetValue(name, out Named? named))
        {
            if (_names.Count >= Limits.Probes)
            {
                return ImportWords.TooManyNames;
            }

            named = Know(name.ToString());
            lock (_gate)
            {
                _names.Add(named.Name, named);
            }
        }

        named.Count++;
        key = named.Key;
        return named.Refusal;
    }

    private Named Know(string name) =>
        _told.TryGetValue(name, out ImportProbe? told)
            ? told.Key.Length == 0 ? new Named(name, null, ImportWords.LeftOut) : new Named(name, told.Key, null)
        : isKnown(name) ? new Named(name, name, null)
        : new Named(name, null, ImportWords.UnknownProbe);
}
