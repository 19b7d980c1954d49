using Incubation.Simulation.Cabinets;
using Incubation.Simulation.Probes;
using Incubation.Simulation.Rooms;

namespace Incubation.Simulation.Scenarios;

/// <summary>What each happening changes.</summary>
internal static class Happenings
{
    /// <summary>Looks up whatever the happening names, so that a wrong name fails where it was written and not later.</summary>
    public static void Check(Happening happening, Func<string, int> cabinet, Func<string, int> probe)
    {
        var (inCabinet, ofProbe) = Named(happening);
        if (inCabinet is not null)
        {
            _ = cabinet(inCabinet);
        }
        if (ofProbe is not null)
        {
            _ = probe(ofProbe);
        }
    }

    public static void Apply(Happening happening, long atMs, Room room, Func<string, Cabinet> cabinet, Func<string, Probe> probe)
    {
        switch (happening)
        {
            case DoorOpened h: cabinet(h.Cabinet).DoorOpenUntilMs = atMs + Milliseconds(h.Seconds); break;
            case HeaterBecame h: cabinet(h.Cabinet).Fault = h.Fault; break;
            case Misted h: cabinet(h.Cabinet).Moisture.AddMist(h.Grams); break;
            case WaterAdded h: cabinet(h.Cabinet).Moisture.AddWater(h.Grams); break;
            case FanBecame h: cabinet(h.Cabinet).FanWorks = h.Runs; break;
            case SetpointBecame h: cabinet(h.Cabinet).Setpoint = h.Celsius; break;
            case EggWarmthBecame h: cabinet(h.Cabinet).EggWatts = h.Watts; break;
            case PowerBecame { Cabinet: null } h: room.Powered = h.On; break;
            case PowerBecame h: cabinet(h.Cabinet!).Powered = h.On; break;
            case ProbeMoved h: probe(h.Probe).Place = h.Place; break;
            case ProbeBecame h:
                var broken = probe(h.Probe);
                broken.Fault = h.Fault;
                broken.FaultUntilMs = h.Seconds is { } seconds ? atMs + Milliseconds(seconds) : long.MaxValue;
                break;
            case ProbeScatters h: probe(h.Probe).MoreNoise = h.MoreNoise; break;
            case ProbeDrifts h: probe(h.Probe).Drift(h.CelsiusPerDay, atMs); break;
            default: throw new ArgumentException($"{happening.GetType().Name} is no happening that this world knows.", nameof(happening));
        }
    }

    private static (string? Cabinet, string? Probe) Named(Happening happening) => happening switch
    {
        DoorOpened h => (h.Cabinet, null),
        HeaterBecame h => (h.Cabinet, null),
        Misted h => (h.Cabinet, null),
        WaterAdded h => (h.Cabinet, null),
        FanBecame h => (h.Cabinet, null),
        SetpointBecame h => (h.Cabinet, null),
        EggWarmthBecame h => (h.Cabinet, null),
        PowerBecame h => (h.Cabinet, null),
        ProbeMoved h => (null, h.Probe),
        ProbeBecame h => (null, h.Probe),
        ProbeScatters h => (null, h.Probe),
        ProbeDrifts h => (null, h.Probe),
        _ => (null, null),
    };

    private static long Milliseconds(double seconds) => (long)Math.Round(seconds * 1000);
}
