using Incubation.Core.Readings;
using Incubation.Simulation;
using Incubation.Simulation.Cabinets;
using Incubation.Simulation.Scenarios;
using NodaTime;

namespace Incubation.Service.Demo;

/// <summary>All that is on record before the demo starts: two finished seasons and the one that lives, told by one simulation.</summary>
/// <param name="Readings">What the probes measured, each season in order of time.</param>
/// <param name="Journal">What became alarms, and who answered.</param>
/// <param name="Book">Clutches, eggs, looks, outcomes, care.</param>
internal sealed record DemoPast(IReadOnlyList<Reading> Readings, DemoJournalPage Journal, DemoBook Book)
{
    /// <summary>Inner step of the long histories, seconds: fine enough for their thermostats, a tenth of the work of the live world.</summary>
    private const double StepSeconds = 20;

    /// <summary>The facility exists since so many days.</summary>
    public const int FacilityDays = 790;

    /// <summary>First and last day ago of the finished seasons, and first of the one that lives.</summary>
    public const int FirstFrom = 772, FirstTo = 697, SecondFrom = 407, SecondTo = 332, LivingFrom = 63;

    /// <summary>Simulates everything that led to <paramref name="week"/>, which ends at the calendar's now.</summary>
    public static DemoPast Simulate(DemoCalendar calendar, DemoWeek week, long seed)
    {
        var weekStart = week.Start;
        Season[] seasons =
        [
            Season.Of("first", calendar, FirstFrom, calendar.At(FirstTo, 0), [DemoFacility.Hazel, DemoFacility.Rowan], _ => []),
            Season.Of("second", calendar, SecondFrom, calendar.At(SecondTo, 0), [DemoFacility.Hazel, DemoFacility.Linden], DemoEvents.OfSecondSeason),
            Season.Of("living", calendar, LivingFrom, weekStart, [.. DemoFacility.Incubators.Select(i => i.Key)], DemoEvents.OfLivingSeason),
        ];
        var stretches = new DemoStretch[seasons.Length];
        Parallel.For(0, seasons.Length, i => stretches[i] = seasons[i].Simulate(seed));
        stretches[2] = new DemoStretch([.. stretches[2].Readings, .. week.Readings], stretches[2].Track.Then(week.Track));

        var ids = new DemoIds(seed);
        var book = new DemoBook();
        DemoTubs.Write(book, calendar, ids);
        DemoTraits.Write(book, calendar);
        var journal = new DemoJournalPage([], []);
        for (var i = 0; i < seasons.Length; i++)
        {
            var season = seasons[i];
            journal = journal.Then(DemoJournal.Replay(
                stretches[i].Readings, season.Cabinets, DemoDuty.Of(season.Name, calendar), calendar.Zone, ids.Next));
            book.Care.AddRange(season.Chores.Select(chore => chore.Line(ids.Next())));
            var end = season.Name == "living" ? calendar.Now : season.To;
            foreach (var plan in DemoClutches.All.Where(plan => plan.Season == season.Name))
            {
                DemoBreeding.Raise(plan, stretches[i].Track, end, calendar, seed, ids, book);
            }
        }
        book.Care.AddRange(DemoEvents.CareOfTheWeek(weekStart).Select(chore => chore.Line(ids.Next())));
        return new DemoPast([.. stretches.SelectMany(stretch => stretch.Readings)], journal, book);
    }

    /// <summary>One season as it is simulated.</summary>
    private sealed record Season(
        string Name, Instant From, Instant To, IReadOnlyList<string> Cabinets, IReadOnlyList<DemoEvent> Events, IReadOnlyList<DemoChore> Chores)
    {
        public static Season Of(
            string name, DemoCalendar calendar, int from, Instant to, IReadOnlyList<string> cabinets, Func<DemoCalendar, IReadOnlyList<DemoEvent>> events)
        {
            var start = calendar.At(from, 0);
            var own = events(calendar);
            var chores = DemoChore.Routine(calendar, from, to, cabinets);
            return new Season(name, start, to, cabinets, [.. own, .. DemoChore.Rounds(calendar, from, to, cabinets), .. chores.SelectMany(chore => chore.Events)],
                [.. chores, .. own.Where(e => e.Chore is not null).Select(e => e.Chore!)]);
        }

        public DemoStretch Simulate(long seed)
        {
            var scenario = Scenario.Empty;
            foreach (var (at, happening, _) in Events.Where(e => e.At >= From && e.At < To).OrderBy(e => e.At))
            {
                scenario = scenario.With(at, happening);
            }
            var world = new World(new WorldSpec
            {
                Seed = (ulong)seed + (ulong)Name.Length,
                Start = Instant.FromUnixTimeSeconds(From.ToUnixTimeSeconds()),
                StepSeconds = StepSeconds,
                Cabinets = [.. DemoFacility.Cabinets.Where(c => Cabinets.Contains(c.Key)).Select(AsItWas)],
                Probes = [.. DemoFacility.Probes.Select(p => p.Spec).Where(p => Cabinets.Contains(p.Cabinet))],
                Scenario = scenario,
            });
            return DemoStretch.Run(world, Cabinets, To);
        }

        // In its second season Linden had a weaker heater; with today's nothing at all would have lived through its bad night.
        private CabinetSpec AsItWas(CabinetSpec spec)
            => Name == "second" && spec.Key == DemoFacility.Linden ? spec with { HeaterWatts = 50 } : spec;
    }
}
