namespace Incubation.Simulation.Tests;

internal static class Placeholder;
