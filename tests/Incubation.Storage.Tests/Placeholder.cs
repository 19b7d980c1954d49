namespace Incubation.Storage.Tests;

internal static class Placeholder;
