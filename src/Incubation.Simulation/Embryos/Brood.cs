using NodaTime;

namespace Incubation.Simulation.Embryos;

/// <summary>The eggs of one laying, as they start.</summary>
public sealed record BroodSpec
{
    /// <summary>Where its chance comes from, together with its name.</summary>
    public ulong Seed { get; init; } = 1;

    /// <summary>Its name: two broods of one seed are different.</summary>
    public required string Name { get; init; }

    /// <summary>Its species.</summary>
    public required EmbryoNature Nature { get; init; }

    /// <summary>Number of eggs, slugs included; at least 1.</summary>
    public required int Eggs { get; init; }

    /// <summary>What dam and sire carry; the glow goes with the first of these traits.</summary>
    public IReadOnlyList<TraitCross> Traits { get; init; } = [];

    /// <summary>Pace of the whole brood; 1 is the species' own.</summary>
    public double Pace { get; init; } = 1;
}

/// <summary>A clutch in motion. The eggs are numbered from 1, in their order.</summary>
public sealed class Brood
{
    /// <summary>Fresh eggs.</summary>
    public Brood(BroodSpec spec)
    {
        ArgumentNullException.ThrowIfNull(spec);
        ArgumentOutOfRangeException.ThrowIfLessThan(spec.Eggs, 1, nameof(spec));
        var own = Chance.SeedOf(spec.Seed, spec.Name);
        Eggs =
        [
            .. Enumerable.Range(1, spec.Eggs).Select(number =>
            {
                var seed = Chance.Bits(own, (ulong)number);
                var copies = spec.Traits.Select((cross, i) => Segregation.Draw(cross, Chance.Bits(seed, (ulong)(100 + i)))).ToArray();
                return new Embryo(spec.Nature, copies, spec.Pace, seed);
            }),
        ];
    }

    /// <summary>The eggs; number 1 comes first.</summary>
    public IReadOnlyList<Embryo> Eggs { get; }

    /// <summary>Whether every egg is out, dead or a slug.</summary>
    public bool IsOver => Eggs.All(egg => egg.State is EmbryoState.Out or EmbryoState.Dead or EmbryoState.Slug);

    /// <summary>All of them live on for a while in one climate.</summary>
    public void Live(EggClimate climate, Instant from, Duration time)
    {
        foreach (var egg in Eggs)
        {
            egg.Live(climate, from, time);
        }
    }
}
