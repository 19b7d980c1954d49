namespace Incubation.Reference.Tests;

internal static class Placeholder;
