namespace Incubation.Core.Tests;

internal static class Placeholder;
