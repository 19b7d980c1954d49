namespace Incubation.Service.Tests;

internal static class Placeholder;
