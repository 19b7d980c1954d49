namespace Incubation.Simulation;

internal static class Placeholder;
