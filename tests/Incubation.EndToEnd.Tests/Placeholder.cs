namespace Incubation.EndToEnd.Tests;

internal static class Placeholder;
