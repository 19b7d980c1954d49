namespace Incubation.Simulation;

/// <summary>
/// Chance without a state: a number comes from the seed, whose it is and which one it is, so that asking in another order, or
/// leaving some out, changes none of the others.
/// </summary>
internal static class Chance
{
    /// <summary>Mixes two numbers into 64 well-spread bits (the finaliser of the SplitMix64 generator, Steele, Lea and Flood 2014; from memory).</summary>
    public static ulong Bits(ulong seed, ulong index)
    {
        var z = seed + ((index + 1) * 0x9E3779B97F4A7C15UL);
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9UL;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EBUL;
        return z ^ (z >> 31);
    }

    /// <summary>Uniform over [0, 1).</summary>
    public static double Uniform(ulong seed, ulong index) => (Bits(seed, index) >> 11) * (1.0 / (1UL << 53));

    /// <summary>Bell-shaped, mean 0, standard deviation 1, within ±3.47: the sum of four uniform 16-bit numbers.</summary>
    public static double Bell(ulong seed, ulong index)
    {
        var bits = Bits(seed, index);
        var sum = (bits & 0xFFFF) + ((bits >> 16) & 0xFFFF) + ((bits >> 32) & 0xFFFF) + (bits >> 48);
        // Four uniforms on [0, 1] have variance 4/12: divide by √(1/3).
        return ((sum / 65535.0) - 2) * 1.7320508075688772;
    }

    /// <summary>A seed of its own for a named part; the same for the same name on every machine (FNV-1a, 64 bits; from memory).</summary>
    public static ulong SeedOf(ulong seed, string name)
    {
        var hash = 14695981039346656037UL;
        foreach (var c in name)
        {
            hash = (hash ^ c) * 1099511628211UL;
        }
        return Bits(seed, hash);
    }
}
