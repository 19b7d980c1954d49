using Incubation.Core.Alarms;
using Incubation.Core.FirstScreen;
using Incubation.Core.Readings;
using Incubation.Service.Alarms;
using Incubation.Service.Clutches;
using Incubation.Service.Facility;
using Incubation.Service.Hosting;
using Incubation.Service.Probes;
using Incubation.Service.Readings;
using Microsoft.Extensions.Options;
using NodaTime;

namespace Incubation.Service.FirstScreen;

/// <summary>Gathers what the first screen shows. Decides nothing: the words come from Core, the alarms from the desk.</summary>
internal sealed class NowScreen(
    IFacility facility, ILatestReadings latest, IAlarmDesk desk, AlarmSpeech speech, CallOutReach reach, OtherRooms rooms, TroubleWatch troubles, ServiceClock clock,
    IOptions<IncubationOptions> options)
{
    private readonly QuantityReader _quantities = new(latest, speech.ProbeName);

    public async Task<NowView> ReadAsync(TemperatureScale scale, CancellationToken cancellationToken)
    {
        CallOutState callOut = await reach.ReadAsync(cancellationToken);
        ILookup<string, ClutchLine> clutches = await rooms.ContentsAsync(cancellationToken);
        IReadOnlyList<ToDoView> elsewhere = await rooms.ToDoAsync(cancellationToken);
        Instant now = clock.Wall;
        FacilitySnapshot snapshot = facility.Current;
        FacilityOptions place = options.Value.Facility;
        var names = snapshot.Incubators.ToDictionary(i => i.Key, i => i.Name, StringComparer.Ordinal);
        AlarmFacts[] alarms = [.. HeadlineWriter.ByUrgency(desk.Standing().Select(a => Named(a, names)))];

        var views = new List<IncubatorNow>();
        var facts = new List<IncubatorFacts>();
        foreach (IncubatorPlace incubator in snapshot.Incubators.OrderBy(i => i.Position).ThenBy(i => i.Name, StringComparer.Ordinal))
        {
            (IncubatorNow view, IncubatorFacts fact) = Read(incubator, snapshot, alarms, [.. clutches[incubator.Key]], now, scale);
            views.Add(view);
            facts.Add(fact);
        }

        int notPlaced = latest.Series.Select(s => s.Probe).Distinct(StringComparer.Ordinal).Count(p => !snapshot.Placements.ContainsKey(p));
        ToDoView[] toDo = [.. ToDoList.For(facts, notPlaced, callOut).Concat(elsewhere).OrderBy(item => item.Urgency)];
        Headline headline = HeadlineWriter.Write(new FacilityFacts(
            now, DateTimeZoneProviders.Tzdb.GetZoneOrNull(place.Zone) ?? DateTimeZone.Utc, scale, facts, alarms, callOut.Reachable,
            toDo.FirstOrDefault()?.What,
            [.. troubles.All.Where(t => t.IsSerious).GroupBy(t => t.Series.Probe, StringComparer.Ordinal).Select(g => g.MinBy(t => t.Since)!)
                .OrderBy(t => t.Since).ThenBy(t => t.Series.Probe, StringComparer.Ordinal).Select(t => t.Words)]));
        return new NowView(
            NowWords.Time(now), place.Name, place.Zone,
            new HeadlineView(NowWords.Of(headline.Tone), headline.Sentence, headline.Next, headline.Detail, headline.Occurrence, headline.Incubator),
            views, [.. alarms.Select(a => NowWords.Of(a, now, scale))], notPlaced, new CallOutNow(callOut.Reachable, callOut.Words),
            toDo);
    }

    private (IncubatorNow View, IncubatorFacts Facts) Read(
        IncubatorPlace incubator, FacilitySnapshot snapshot, AlarmFacts[] alarms, IReadOnlyList<ClutchLine> clutches, Instant now,
        TemperatureScale scale)
    {
        PlacedProbe[] probes = [.. snapshot.Placements.Values.Where(p => p.Incubator == incubator.Key).OrderBy(p => p.Probe, StringComparer.Ordinal)];
        var views = new List<QuantityNow>();
        var facts = new List<QuantityFacts>();
        foreach (Quantity quantity in Quantities(probes))
        {
            PlacedProbe[] measuring = [.. probes.Where(p => latest.Latest(new SeriesKey(p.Probe, quantity)) is not null)];
            // A placed probe that has never sent anything still counts, or an incubator with a dead probe would look complete.
            PlacedProbe[] mute = quantity == Quantity.Temperature ? [.. probes.Where(p => !latest.Series.Any(s => s.Probe == p.Probe))] : [];
            Band? band = snapshot.Bands.GetValueOrDefault((incubator.Key, quantity));
            (QuantityNow view, QuantityFacts fact) = _quantities.Read(quantity, [.. measuring, .. mute], band, now);
            views.Add(view);
            facts.Add(fact);
        }

        return (
            new IncubatorNow(incubator.Key, incubator.Name, incubator.Position, views,
                [.. alarms.Where(a => a.Alarm.Key.Incubator == incubator.Key).Select(a => NowWords.Of(a, now, scale))],
                clutches),
            new IncubatorFacts(incubator.Key, incubator.Name, probes.Length > 0, facts));
    }

    // Temperature always: an incubator in which nobody measures it must show that. Others only once a probe there has sent them.
    private IEnumerable<Quantity> Quantities(PlacedProbe[] probes)
        => latest.Series.Where(s => probes.Any(p => p.Probe == s.Probe)).Select(s => s.Quantity)
            .Append(Quantity.Temperature).Distinct()
            .OrderBy(q => q == Quantity.Temperature ? 0 : q == Quantity.Humidity ? 1 : 2).ThenBy(q => q.Name, StringComparer.Ordinal);

    private AlarmFacts Named(StandingAlarm alarm, Dictionary<string, string> names)
        => new(alarm, names.GetValueOrDefault(alarm.Key.Incubator, alarm.Key.Incubator), speech.ProbeName(alarm.Key.Probe), speech.Last(alarm.Key));
}
