using System.Collections.Frozen;
using Incubation.Core.Alarms;
using Incubation.Core.Readings;
using Incubation.Service.Alarms;
using Incubation.Service.Facility;
using Incubation.Service.FirstScreen;
using Incubation.Service.Readings;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;

namespace Incubation.Service.Tests.FirstScreen;

/// <summary>A facility, readings and alarms that a test sets by hand.</summary>
internal sealed class Doubles : IFacility, ILatestReadings, IAlarmDesk
{
    private readonly Dictionary<SeriesKey, List<Reading>> _readings = [];

    public FacilitySnapshot Current { get; private set; } = FacilitySnapshot.Empty;

    public List<StandingAlarm> Alarms { get; } = [];

    public IReadOnlyCollection<SeriesKey> Series => _readings.Keys;

    event Action<FacilitySnapshot>? IFacility.Changed { add { } remove { } }

    event Action? IAlarmDesk.Changed { add { } remove { } }

    public static void Add(IServiceCollection services) => new Doubles().AddTo(services);

    public static void AddBroken(IServiceCollection services)
        => services.AddSingleton<NowScreen>(_ => throw new InvalidOperationException("broken on purpose"));

    public void AddTo(IServiceCollection services)
        => services.AddSingleton<IFacility>(this).AddSingleton<ILatestReadings>(this).AddSingleton<IAlarmDesk>(this);

    public void Place(string incubator, string name, params string[] probes)
    {
        var band = new Band(incubator, Quantity.Temperature, 29.5, 30.5, 32.5, 33.5, 0.2,
            Duration.FromMinutes(5), Duration.FromMinutes(1), Duration.FromMinutes(2), Duration.FromMinutes(10));
        Current = new FacilitySnapshot(
            Current.Incubators.Add(new IncubatorPlace(incubator, name, Current.Incubators.Length)),
            Current.Placements.Concat(probes.Select(p => KeyValuePair.Create(p, new PlacedProbe(p, incubator, "air", Instant.MinValue)))).ToFrozenDictionary(),
            Current.Bands.Append(KeyValuePair.Create((incubator, Quantity.Temperature), band)).ToFrozenDictionary());
    }

    public void Hear(string probe, double value, Instant at, ReadingMarks marks = ReadingMarks.None)
    {
        var series = new SeriesKey(probe, Quantity.Temperature);
        if (!_readings.TryGetValue(series, out List<Reading>? list))
        {
            _readings[series] = list = [];
        }

        list.Add(new Reading(series, value, at, at, marks));
    }

    public Reading? Latest(SeriesKey series) => _readings.TryGetValue(series, out List<Reading>? list) ? list[^1] : null;

    public Reading? LatestGood(SeriesKey series)
        => _readings.TryGetValue(series, out List<Reading>? list) && list.Any(r => r.IsGood) ? list.Last(r => r.IsGood) : null;

    public IReadOnlyList<Reading> LastHour(SeriesKey series)
        => _readings.TryGetValue(series, out List<Reading>? list) ? [.. list.Where(r => r.IsGood)] : [];

    public IReadOnlyList<StandingAlarm> Standing() => Alarms;

    public AnswerOutcome Answer(Guid occurrence, string by) => AnswerOutcome.Unknown;
}
