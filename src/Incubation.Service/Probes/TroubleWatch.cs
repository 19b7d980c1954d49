using System.Collections.Concurrent;
using System.Collections.Frozen;
using System.Collections.Immutable;
using Incubation.Core.Readings;
using Incubation.Service.Facility;
using Incubation.Service.Readings;
using NodaTime;

namespace Incubation.Service.Probes;

/// <summary>
/// Hears every reading and remembers what is needed to tell trouble in a probe; <see cref="TroubleWorker"/> recalls the past and judges.
/// A series is remembered from its placement on, and anew when its correction changes: what was learned then no longer fits.
/// </summary>
internal sealed class TroubleWatch(IFacility facility, ProbeRegister register, ICorrections corrections, IReadingHistory history, IProbeTubs? tubs = null) : IReadingListener
{
    private readonly ConcurrentDictionary<SeriesKey, Watched> _tracks = new();
    private readonly Dictionary<(string Incubator, Quantity Quantity), IReadOnlyList<Trouble>> _standing = [];
    private readonly Dictionary<(string A, string B, Quantity Quantity, Instant Since), PairPast?> _pasts = [];
    private volatile FrozenDictionary<string, ImmutableArray<Trouble>> _byProbe = FrozenDictionary<string, ImmutableArray<Trouble>>.Empty;

    /// <summary>What stands of a probe.</summary>
    public IReadOnlyList<Trouble> Of(string probe) => _byProbe.TryGetValue(probe, out ImmutableArray<Trouble> troubles) ? troubles : [];

    /// <summary>All that stands.</summary>
    public IEnumerable<Trouble> All => _byProbe.Values.SelectMany(troubles => troubles);

    public void Observe(in Reading reading)
    {
        // One that is not recalled yet is read from the store in a moment, this reading with it.
        if (_tracks.TryGetValue(reading.Series, out Watched? watched))
        {
            lock (watched.Track)
            {
                watched.Track.Add(reading);
            }
        }
    }

    /// <summary>Series that are placed and judged, and whose past is not in memory, or no longer fits.</summary>
    public IReadOnlyList<(SeriesKey Series, PlacedProbe Place)> ToRecall()
    {
        FacilitySnapshot now = facility.Current;
        foreach (SeriesKey gone in _tracks.Keys.Where(series => !now.Placements.ContainsKey(series.Probe)))
        {
            _tracks.TryRemove(gone, out _);
        }

        return
        [
            .. history.Latest().Select(newest => newest.Series).Where(IsJudged)
                .Where(series => now.Placements.TryGetValue(series.Probe, out PlacedProbe? place) && !Fits(series, place))
                .Select(series => (series, now.Placements[series.Probe])),
        ];
    }

    /// <summary>Takes a track whose past has been read.</summary>
    public void Take(TroubleTrack track, PlacedProbe place, Correction correction)
        => _tracks[track.Series] = new Watched(track, place, correction);

    /// <summary>Judges every incubator. Called by one worker at a time.</summary>
    public void Judge(Instant now)
    {
        FacilitySnapshot snapshot = facility.Current;
        List<Trouble> all = [];
        HashSet<(string, Quantity)> seen = [];
        foreach (var group in _tracks.Values.Where(w => snapshot.Placements.GetValueOrDefault(w.Place.Probe) is { } place && place.From == w.Place.From)
            .GroupBy(w => (w.Place.Incubator, w.Track.Series.Quantity)))
        {
            Watched[] watched = [.. group.OrderBy(w => w.Place.Probe, StringComparer.Ordinal)];
            TroubleProbe[] probes = [.. watched.Select(w => new TroubleProbe(w.Place.Probe, Name(w.Place.Probe), Tub(w.Place), w.Track))];
            HashSet<SeriesKey> here = [.. watched.Select(w => w.Track.Series)];
            IReadOnlyList<Trouble> before = [.. _standing.GetValueOrDefault(group.Key, []).Where(t => here.Contains(t.Series))];
            IReadOnlyList<Trouble> standing = Locked(watched, 0, () => TroubleJudge.Judge(probes, before, (a, b) => Past(a, b, watched), now));
            _standing[group.Key] = standing;
            seen.Add(group.Key);
            all.AddRange(standing);
        }

        foreach ((string, Quantity) gone in _standing.Keys.Where(key => !seen.Contains(key)).ToList())
        {
            _standing.Remove(gone);
        }

        _byProbe = all.GroupBy(t => t.Series.Probe, StringComparer.Ordinal).ToFrozenDictionary(g => g.Key, g => g.ToImmutableArray(), StringComparer.Ordinal);
    }

    /// <summary>The tub that a probe lies in, by the one rule.</summary>
    public string? Tub(PlacedProbe place) => tubs is null ? place.Tub : tubs.TubOf(place);

    private static bool IsJudged(SeriesKey series) => series.Quantity == Quantity.Temperature || series.Quantity == Quantity.Humidity;

    private bool Fits(SeriesKey series, PlacedProbe place)
        => _tracks.TryGetValue(series, out Watched? watched) && watched.Place.Incubator == place.Incubator && watched.Place.From == place.From
            && ReferenceEquals(watched.Correction, corrections.Of(series));

    private string Name(string probe) => register.Find(probe)?.Name is { Length: > 0 } name ? name : probe;

    // The tracks of one incubator, in the order of their keys, so that no two can wait for each other.
    private static T Locked<T>(Watched[] watched, int index, Func<T> judge)
    {
        if (index == watched.Length)
        {
            return judge();
        }

        lock (watched[index].Track)
        {
            return Locked(watched, index + 1, judge);
        }
    }

    // The first three days in which both were there; read once, and from the hours, which are kept longest.
    private PairPast? Past(TroubleProbe a, TroubleProbe b, Watched[] watched)
    {
        Instant since = TroubleTrack.HourOf(Instant.Max(Place(a).From, Place(b).From)) + Duration.FromHours(1);
        Quantity quantity = a.Track.Series.Quantity;
        if (_pasts.TryGetValue((a.Probe, b.Probe, quantity, since), out PairPast? known))
        {
            return known;
        }

        Instant until = since + Duration.FromHours(72);
        Dictionary<long, double> second = Hours(b.Track.Series).ToDictionary(h => h.Ms, h => h.Mean);
        PairPast? past = PairPast.Of(Hours(a.Track.Series).Where(h => second.ContainsKey(h.Ms)).Select(h => h.Mean - second[h.Ms]));
        if (a.Track.Newest > until && b.Track.Newest > until)
        {
            // It won't change any more, but by a correction, after which both are recalled and this is asked for again.
            _pasts[(a.Probe, b.Probe, quantity, since)] = past;
        }

        return past;

        PlacedProbe Place(TroubleProbe probe) => watched.First(w => w.Place.Probe == probe.Probe).Place;

        IEnumerable<(long Ms, double Mean)> Hours(SeriesKey series)
        {
            ReadingBuckets hours = history.Buckets(series, since, until, 72);
            return hours.StartMs.Zip(hours.Mean);
        }
    }

    /// <summary>Forgets how pairs stood to each other: after a correction they are read again.</summary>
    public void ForgetPasts() => _pasts.Clear();

    private sealed record Watched(TroubleTrack Track, PlacedProbe Place, Correction Correction);
}
