namespace Incubation.Simulation.Embryos;

/// <summary>Copies of one trait that dam and sire have, 0 to 2 each.</summary>
/// <param name="Dam">The mother's.</param>
/// <param name="Sire">The father's.</param>
public readonly record struct TraitCross(int Dam, int Sire);

/// <summary>Draws what a young inherits: each parent hands on one of its two copies at random (Mendel 1866).</summary>
public static class Segregation
{
    /// <summary>Copies that the young has, 0 to 2; the same for the same seed.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A parent has not 0, 1 or 2 copies.</exception>
    public static int Draw(TraitCross cross, ulong seed)
        => Hands(cross.Dam, nameof(cross), seed, 0) + Hands(cross.Sire, nameof(cross), seed, 1);

    private static int Hands(int copies, string name, ulong seed, ulong parent) => copies switch
    {
        0 => 0,
        1 => Chance.Uniform(seed, parent) < 0.5 ? 1 : 0,
        2 => 1,
        _ => throw new ArgumentOutOfRangeException(name, copies, "A parent has 0, 1 or 2 copies."),
    };
}
