using Incubation.Simulation.Cabinets;
using Incubation.Simulation.Probes;

namespace Incubation.Simulation.Scenarios;

/// <summary>Something that is done to the simulated facility, or befalls it.</summary>
public abstract record Happening;

/// <summary>A keeper opens a door for a while.</summary>
public sealed record DoorOpened(string Cabinet, double Seconds) : Happening;

/// <summary>A heater breaks, or is mended.</summary>
public sealed record HeaterBecame(string Cabinet, HeaterFault Fault) : Happening;

/// <summary>A keeper sprays water, g.</summary>
public sealed record Misted(string Cabinet, double Grams) : Happening;

/// <summary>A keeper pours water into substrate or trays, g.</summary>
public sealed record WaterAdded(string Cabinet, double Grams) : Happening;

/// <summary>A fan stands still, or runs again.</summary>
public sealed record FanBecame(string Cabinet, bool Runs) : Happening;

/// <summary>A keeper turns a thermostat, °C.</summary>
public sealed record SetpointBecame(string Cabinet, double Celsius) : Happening;

/// <summary>The mains of one cabinet, or of the whole room when <paramref name="Cabinet"/> is null.</summary>
public sealed record PowerBecame(string? Cabinet, bool On) : Happening;

/// <summary>A probe falls out of where it is, or is put somewhere.</summary>
public sealed record ProbeMoved(string Probe, ProbePlace Place) : Happening;

/// <summary>A probe goes wrong for a while (null: for good), or right again.</summary>
public sealed record ProbeBecame(string Probe, ProbeFault Fault, double? Seconds = null) : Happening;

/// <summary>A probe's values scatter more from now on: standard deviation besides its own, °C; 0 mends it.</summary>
public sealed record ProbeScatters(string Probe, double MoreNoise) : Happening;

/// <summary>A probe shows more and more from now on, °C a day; 0 stops it where it is.</summary>
public sealed record ProbeDrifts(string Probe, double CelsiusPerDay) : Happening;

/// <summary>The eggs of a cabinet give so much warmth now, W.</summary>
public sealed record EggWarmthBecame(string Cabinet, double Watts) : Happening;
