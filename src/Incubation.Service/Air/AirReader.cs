using Incubation.Core.Air;
using Incubation.Core.Alarms;
using Incubation.Core.FirstScreen;
using Incubation.Core.Readings;
using Incubation.Service.Facility;
using Incubation.Service.Hosting;
using Incubation.Service.Probes;
using Incubation.Service.Readings;
using NodaTime;
using Surface = Incubation.Core.Air.Surface;

namespace Incubation.Service.Air;

/// <summary>
/// Works out the air from the newest good and fresh readings. A hygrometer's own thermometer goes with it; where it has none, the nearest
/// in time of the others there does, with more doubt. Of several hygrometers the one in the air that drips first speaks, unless one is asked for.
/// </summary>
internal sealed class AirReader(IFacility facility, LatestReadings latest, ProbeRegister register, ServiceClock clock)
{
    private static readonly Duration DefaultSilence = Duration.FromSeconds(BandDefaults.SilentAfterSeconds);

    /// <summary>The air; null when there is no such incubator in use, or no such probe in it.</summary>
    public AirView? Read(string incubator, string? probe, TemperatureScale scale)
    {
        FacilitySnapshot snapshot = facility.Current;
        string[] here = [.. snapshot.Placements.Values.Where(p => p.Incubator == incubator).Select(p => p.Probe).Order(StringComparer.Ordinal)];
        if (snapshot.Incubators.All(i => i.Key != incubator) || (probe is not null && !here.Contains(probe)))
        {
            return null;
        }

        Reading[] temperatures = [.. Fresh(here, Quantity.Temperature, incubator, snapshot)];
        Found[] found =
        [
            .. Fresh(probe is null ? here : [probe], Quantity.Humidity, incubator, snapshot)
                .Select(humidity => Pair(humidity, temperatures)).OfType<Found>(),
        ];
        Found? first = found.MaxBy(one => one.State.DewPoint ?? Vapour.LeastDewPoint);
        return first is null ? Nothing(temperatures.Length > 0) : View(first, temperatures, scale);
    }

    private IEnumerable<Reading> Fresh(IEnumerable<string> probes, Quantity quantity, string incubator, FacilitySnapshot snapshot)
    {
        Duration silence = snapshot.Bands.TryGetValue((incubator, quantity), out Band? band) ? band.SilentAfter : DefaultSilence;
        foreach (SeriesKey series in probes.Select(probe => new SeriesKey(probe, quantity)))
        {
            // A probe that sends faults now is not known by what it sent before.
            if (latest.LatestGood(series) is { } good
                && Probes.ReadingQuality.Of(latest.Latest(series), latest.GoodHeardAt(series), silence, clock.Steady) == Probes.ReadingQuality.Good)
            {
                yield return good;
            }
        }
    }

    private static Found? Pair(Reading humidity, Reading[] temperatures)
    {
        if (temperatures.Length == 0)
        {
            return null;
        }

        int own = Array.FindIndex(temperatures, t => t.Series.Probe == humidity.Series.Probe);
        Reading temperature = own >= 0 ? temperatures[own] : temperatures.MinBy(t => Distance(t.At, humidity.At));
        return AirState.Of(temperature.Value, humidity.Value, (humidity.Marks & ReadingMarks.Saturated) != 0, otherPlace: own < 0) is { } state
            ? new Found(state, humidity, temperature)
            : null;
    }

    private static Duration Distance(Instant a, Instant b) => a > b ? a - b : b - a;

    private AirView View(Found found, Reading[] temperatures, TemperatureScale scale)
    {
        AirState air = found.State;
        Surface? coolest = temperatures.Where(t => t.Series.Probe != found.Temperature.Series.Probe && t.Series.Probe != found.Humidity.Series.Probe)
            .OrderBy(t => t.Value).Select(t => new Surface(Name(t.Series.Probe), t.Value)).FirstOrDefault();
        string other = found.Temperature.Series.Probe == found.Humidity.Series.Probe ? ""
            : $" The temperature is that of {Name(found.Temperature.Series.Probe)}, since {Name(found.Humidity.Series.Probe)} tells none.";
        Spread dew = Rounded(air.DewPointSpread);
        return new AirView(
            Instant.Max(found.Humidity.At, found.Temperature.At), Rounded(air.Celsius), Rounded(air.Humidity), Rounded(air.DewPoint),
            Rounded(air.AbsoluteHumidity), Rounded(air.Deficit),
            new AirSpreadView(
                Rounded(air.CelsiusSpread), Rounded(air.HumiditySpread), dew, Rounded(air.AbsoluteHumiditySpread), Rounded(air.DeficitSpread), dew),
            Rounded(air.DewPoint), air.Saturated, AirWords.Say(air, coolest, scale) + other, found.Humidity.Series.Probe,
            found.Temperature.Series.Probe);
    }

    private static AirView Nothing(bool warm) => new(
        null, null, null, null, null, null, null, null, false,
        warm ? "The air is not known: no hygrometer here is good and fresh." : "The air is not known: no thermometer here is good and fresh.", null, null);

    private string Name(string probe) => register.Find(probe)?.Name ?? probe;

    // Finer than any probe: 0.001 of the unit.
    private static double? Rounded(double? value) => value is { } known ? Math.Round(known, 3) : null;

    private static Spread Rounded(Spread spread) => new(Rounded(spread.Low), Rounded(spread.High));

    private sealed record Found(AirState State, Reading Humidity, Reading Temperature);
}
