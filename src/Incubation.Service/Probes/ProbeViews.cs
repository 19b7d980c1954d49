using Incubation.Core.Alarms;
using Incubation.Core.Readings;
using Incubation.Service.Facility;
using Incubation.Service.Hosting;
using Incubation.Service.Readings;
using NodaTime;

namespace Incubation.Service.Probes;

/// <summary>Puts together what people see of probes: the records, the newest readings, and how fresh they are.</summary>
internal sealed class ProbeViews(ProbeRegister register, IFacility facility, LatestReadings latest, ServiceClock clock)
{
    private static readonly Duration DefaultSilence = Duration.FromSeconds(BandDefaults.SilentAfterSeconds);

    public ProbeLists All()
    {
        List<ProbeView> placed = [], notPlaced = [];
        FacilitySnapshot snapshot = facility.Current;
        ILookup<string, SeriesKey> series = latest.Series.ToLookup(s => s.Probe, StringComparer.Ordinal);
        foreach (KnownProbe probe in register.All.OrderBy(p => p.Key, StringComparer.Ordinal))
        {
            ProbeView view = Of(probe, snapshot, series[probe.Key]);
            (view.Incubator is null ? notPlaced : placed).Add(view);
        }

        return new ProbeLists(placed, notPlaced);
    }

    public IReadOnlyList<ProbeView> In(string incubator)
    {
        FacilitySnapshot snapshot = facility.Current;
        ILookup<string, SeriesKey> series = latest.Series.ToLookup(s => s.Probe, StringComparer.Ordinal);
        return
        [
            .. snapshot.Placements.Values.Where(p => p.Incubator == incubator).OrderBy(p => p.Probe, StringComparer.Ordinal)
                .Select(p => register.Find(p.Probe)).OfType<KnownProbe>().Select(p => Of(p, snapshot, series[p.Key])),
        ];
    }

    public ProbeView? Find(string key)
        => register.Find(key) is { } probe ? Of(probe, facility.Current, latest.Series.Where(s => s.Probe == key)) : null;

    private ProbeView Of(KnownProbe probe, FacilitySnapshot snapshot, IEnumerable<SeriesKey> series)
    {
        snapshot.Placements.TryGetValue(probe.Key, out PlacedProbe? place);
        List<SeriesView> views = [.. series.OrderByDescending(s => s.Quantity.Name, StringComparer.Ordinal).Select(s => Of(s, probe, place, snapshot))];
        Duration silence = place is null ? DefaultSilence : Silence(snapshot, place.Incubator, Quantity.Temperature);
        return new ProbeView(
            probe.Key, probe.Name, place?.Incubator, snapshot.Incubators.FirstOrDefault(i => i.Key == place?.Incubator)?.Name,
            place?.Where, place?.From, probe.FirstHeardAt, views, probe.ClockOff?.TotalSeconds, (int)silence.TotalSeconds, probe.Online);
    }

    private SeriesView Of(SeriesKey key, KnownProbe probe, PlacedProbe? place, FacilitySnapshot snapshot)
    {
        Reading? newest = latest.Latest(key);
        Duration silence = place is null ? DefaultSilence : Silence(snapshot, place.Incubator, key.Quantity);
        string quality = ReadingQuality.Of(newest, latest.GoodHeardAt(key) ?? probe.FirstHeardAt, silence, clock.Steady);
        ReadingMarks marks = newest?.Marks ?? ReadingMarks.None;
        return new SeriesView(
            key.Quantity.Name, key.Quantity.Unit, newest?.Value, newest?.At, newest?.ArrivedAt, quality,
            ReadingQuality.Words(marks), (marks & ReadingMarks.Saturated) != 0);
    }

    private static Duration Silence(FacilitySnapshot snapshot, string incubator, Quantity quantity)
        => snapshot.Bands.TryGetValue((incubator, quantity), out Band? band) ? band.SilentAfter : DefaultSilence;
}
