using Incubation.Core.Care;
using Incubation.Simulation.Cabinets;
using Incubation.Simulation.Probes;
using Incubation.Simulation.Scenarios;
using NodaTime;

namespace Incubation.Service.Demo;

/// <summary>Something that befalls the simulated facility, with the line in the care log where somebody wrote one.</summary>
internal sealed record DemoEvent(Instant At, Happening Happening, DemoChore? Chore = null);

/// <summary>Something a keeper did, as the care log has it.</summary>
internal sealed record DemoChore(Instant At, CareTarget On, string Key, CareKind Kind, double? WaterGrams, string? Note, string By)
{
    /// <summary>What it does to the simulated cabinets.</summary>
    public IEnumerable<DemoEvent> Events => (Kind, WaterGrams) switch
    {
        (CareKind.Water, { } grams) when On == CareTarget.Incubator => [new(At, new DoorOpened(Key, 10)), new(At, new WaterAdded(Key, grams))],
        (CareKind.Lid, _) when On == CareTarget.Incubator => [new(At, new DoorOpened(Key, 25))],
        _ => [],
    };

    public Storage.Records.CareRecord Line(Guid id) => new()
    {
        Id = id,
        On = On == CareTarget.Tub ? "tub" : "incubator",
        Key = Key,
        Kind = CareLog.Word(Kind),
        WaterGrams = WaterGrams,
        Note = Note,
        At = At,
        By = By,
        EnteredAt = At,
    };

    /// <summary>A look through each door morning and evening, which nobody writes down.</summary>
    public static IEnumerable<DemoEvent> Rounds(DemoCalendar calendar, int from, Instant to, IReadOnlyList<string> cabinets)
    {
        for (var ago = from - 1; calendar.At(ago, 19) < to; ago--)
        {
            foreach (var (cabinet, i) in cabinets.Select((key, i) => (key, i)))
            {
                yield return new(calendar.At(ago, 7.4 + (((ago * 7) + i) % 10 * 0.05)), new DoorOpened(cabinet, 15));
                yield return new(calendar.At(ago, 18.4 + (((ago * 3) + i) % 10 * 0.05)), new DoorOpened(cabinet, 20));
            }
        }
    }

    /// <summary>Water each week.</summary>
    public static IReadOnlyList<DemoChore> Routine(DemoCalendar calendar, int from, Instant to, IReadOnlyList<string> cabinets)
    {
        var chores = new List<DemoChore>();
        for (var ago = from - 1; calendar.At(ago, 19) < to; ago--)
        {
            foreach (var (cabinet, i) in cabinets.Select((key, i) => (key, i)))
            {
                if ((ago + i) % 7 == 0)
                {
                    var by = (ago + i) % 3 == 0 ? DemoFacility.SecondKeeper : DemoFacility.Keeper;
                    chores.Add(new(calendar.At(ago, 18.6 + (0.07 * i)), CareTarget.Incubator, cabinet, CareKind.Water, Grams(cabinet), null, by));
                }
            }
        }
        return chores;
    }

    private static double Grams(string cabinet) => cabinet switch
    {
        DemoFacility.Juniper => 90,
        DemoFacility.Sorrel => 600,
        _ => 300,
    };
}

/// <summary>What went wrong in the seasons before, and what was done about it. The simulator knows; the records only show.</summary>
internal static class DemoEvents
{
    /// <summary>Age of the bad clutch, days, in the night in which Linden's heater stuck.</summary>
    public const int BadNightDay = 12;

    /// <summary>When it stuck: twenty to midnight.</summary>
    public static Instant HeaterStuckAt(DemoCalendar calendar) => calendar.At(calendar.Day(DemoClutches.Bad.DaysAgo).PlusDays(BadNightDay), 23.67);

    /// <summary>When the keeper came down in the morning; the alarm had gone unanswered for about six hours.</summary>
    public static Instant FoundAt(DemoCalendar calendar) => calendar.At(calendar.Day(DemoClutches.Bad.DaysAgo).PlusDays(BadNightDay + 1), 6.4);

    public static IReadOnlyList<DemoEvent> OfSecondSeason(DemoCalendar calendar)
    {
        var found = FoundAt(calendar);
        var mended = found + Duration.FromMinutes(7);
        return
        [
            new(HeaterStuckAt(calendar), new HeaterBecame(DemoFacility.Linden, HeaterFault.StuckOn)),
            new(mended, new HeaterBecame(DemoFacility.Linden, HeaterFault.None), Own(mended, DemoFacility.Linden, CareKind.Other,
                "Found it hot. The heater's relay had stuck on; pulled its plug, new relay in. The phone had been on silent all night.")),
            new(mended, new DoorOpened(DemoFacility.Linden, 240)),
            new(mended + Duration.FromMinutes(20), new WaterAdded(DemoFacility.Linden, 150),
                new(mended + Duration.FromMinutes(20), CareTarget.Incubator, DemoFacility.Linden, CareKind.Water, 150, null, DemoFacility.Keeper)),
        ];
    }

    public static IReadOnlyList<DemoEvent> OfLivingSeason(DemoCalendar calendar)
    {
        var turned = calendar.At(41, 16.2);
        var ajar = calendar.At(24, 19.1);
        var battery = calendar.At(16, 14);
        return
        [
            new(turned, new SetpointBecame(DemoFacility.Linden, 33)),
            new(turned + Duration.FromMinutes(35), new SetpointBecame(DemoFacility.Linden, 31.4), Own(turned + Duration.FromMinutes(35),
                DemoFacility.Linden, CareKind.Other, "Somebody's sleeve had turned the dial. Set back to 31.4 °C.")),
            new(ajar, new DoorOpened(DemoFacility.Rowan, 2_400)),
            new(ajar + Duration.FromMinutes(40), new DoorOpened(DemoFacility.Rowan, 1), Own(ajar + Duration.FromMinutes(40),
                DemoFacility.Rowan, CareKind.Lid, "The door had not latched. Shut it.")),
            new(battery, new ProbeBecame("rowan-lower", ProbeFault.Silent, 2.5 * 3600)),
            new(battery + Duration.FromHours(2.5), new DoorOpened(DemoFacility.Rowan, 20), Own(battery + Duration.FromHours(2.5),
                DemoFacility.Rowan, CareKind.Other, "New battery in the probe on the lower shelf.")),
        ];
    }

    /// <summary>The care log of the last week, whose happenings are those of <see cref="DemoWeek"/>.</summary>
    public static IReadOnlyList<DemoChore> CareOfTheWeek(Instant start)
    {
        var cutOver = DemoWeek.PowerCut(start) + DemoWeek.PowerCutLength;
        var fanOver = DemoWeek.FanStopped(start) + DemoWeek.FanStoppedFor;
        return
        [
            Own(cutOver, DemoFacility.Hazel, CareKind.Other, "The breaker had tripped. Put it back in; all lights on again.")!,
            Own(fanOver, DemoFacility.Rowan, CareKind.Fan, "The fan stood still: its plug was loose. Runs again.")!,
        ];
    }

    private static DemoChore Own(Instant at, string incubator, CareKind kind, string note)
        => new(at, CareTarget.Incubator, incubator, kind, null, note, DemoFacility.Keeper);
}
