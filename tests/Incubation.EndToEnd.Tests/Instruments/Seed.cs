using System.Globalization;

namespace Incubation.EndToEnd.Tests.Instruments;

/// <summary>Chance with a seed that is printed, so that a failing run can be had again: INCUBATION_SEED.</summary>
internal static class Seed
{
    public static readonly int Value =
        int.TryParse(Environment.GetEnvironmentVariable("INCUBATION_SEED"), NumberStyles.Integer, CultureInfo.InvariantCulture, out int given)
            ? given
            : System.Security.Cryptography.RandomNumberGenerator.GetInt32(1, int.MaxValue);

    public static Random For(string what) => new(HashCode(what) ^ Value);

    public static bool Long => Environment.GetEnvironmentVariable("INCUBATION_LONG") == "1";

    // string.GetHashCode differs from run to run.
    private static int HashCode(string text) => text.Aggregate(17, (sum, letter) => unchecked((sum * 31) + letter));
}
