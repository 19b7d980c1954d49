using Incubation.Simulation.Cabinets;
using Incubation.Simulation.Probes;
using Incubation.Simulation.Scenarios;

namespace Incubation.Service.Demo;

/// <summary>What happens in the demo, as a sentence for its log.</summary>
internal static class DemoWords
{
    public static string Say(Happening happening) => happening switch
    {
        HeaterBecame { Fault: HeaterFault.StuckOn } h => $"The heater of {Name(h.Cabinet)} has stuck on.",
        HeaterBecame { Fault: HeaterFault.Dead } h => $"The heater of {Name(h.Cabinet)} gives no heat.",
        HeaterBecame h => $"Somebody has mended the heater of {Name(h.Cabinet)}.",
        DoorOpened h => $"Somebody opens {Name(h.Cabinet)} for {Seconds(h.Seconds)}.",
        Misted h => $"Somebody sprays a little water in {Name(h.Cabinet)}.",
        ProbeBecame { Probe: DemoFacility.NotYetPlaced, Fault: ProbeFault.None } h => $"A probe that nobody has placed yet, {h.Probe}, begins to send.",
        ProbeBecame { Fault: ProbeFault.None } h => $"Probe {h.Probe} works again.",
        ProbeBecame { Fault: ProbeFault.Silent } h => $"Probe {h.Probe} falls silent{For(h.Seconds)}.",
        ProbeBecame { Fault: ProbeFault.Unreadable } h => $"Probe {h.Probe} sends something that is no number{For(h.Seconds)}.",
        ProbeBecame h => $"Probe {h.Probe} sends a value that means a fault{For(h.Seconds)}.",
        PowerBecame { Cabinet: { } cabinet } h => $"The power of {Name(cabinet)} is {(h.On ? "back" : "out")}.",
        FanBecame h => $"The fan of {Name(h.Cabinet)} {(h.Runs ? "runs again" : "stands still")}.",
        // The director does nothing else; a new kind of happening is at least named.
        _ => $"Something happens: {happening.GetType().Name}.",
    };

    private static string Name(string cabinet)
        => DemoFacility.Incubators.Where(i => i.Key == cabinet).Select(i => i.Name).FirstOrDefault(cabinet);

    private static string For(double? seconds) => seconds is { } some ? $" for {Seconds(some)}" : "";

    private static string Seconds(double seconds)
        => seconds < 90 ? $"{Math.Round(seconds)} seconds" : $"{Math.Round(seconds / 60)} minutes";
}
