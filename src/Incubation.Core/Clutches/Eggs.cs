namespace Incubation.Core.Clutches;

/// <summary>An egg where it lies in its tub, seen from above.</summary>
/// <param name="Number">Plain number as pencilled on the shell, 1 to <see cref="Limits.EggNumber"/>.</param>
/// <param name="X">From the tub's left side (0) to its right (1).</param>
/// <param name="Y">From the tub's far side (0) to its near one (1).</param>
/// <param name="Clump">Eggs with the same clump number are stuck together; null for one that lies free.</param>
public sealed record Egg(int Number, double X, double Y, int? Clump);

/// <summary>The eggs drawn where they lie.</summary>
public static class EggPlan
{
    /// <summary>
    /// A first plan for eggs numbered 1 to <paramref name="count"/> before anyone has dragged them: a loose heap from the middle
    /// outwards (each egg a golden angle on from the last, on a spiral of equal areas), as a clutch lies, and not a grid.
    /// </summary>
    /// <param name="count">1 to <see cref="Limits.EggsPerClutch"/>.</param>
    /// <exception cref="ArgumentOutOfRangeException">The count is outside that range.</exception>
    public static IReadOnlyList<Egg> Heap(int count)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(count, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(count, Limits.EggsPerClutch);
        double golden = Math.PI * (3 - Math.Sqrt(5));
        double reach = Math.Min(0.42, 0.11 * Math.Sqrt(count));
        return
        [
            .. Enumerable.Range(0, count).Select(i =>
            {
                double radius = reach * Math.Sqrt((i + 0.5) / count);
                return new Egg(i + 1, 0.5 + (radius * Math.Cos(i * golden)), 0.5 + (radius * Math.Sin(i * golden)), null);
            }),
        ];
    }

    /// <summary>What is wrong with a plan: a number twice or out of range, an egg outside the tub, a clump of one.</summary>
    /// <param name="eggs">The plan.</param>
    public static IEnumerable<Remark> Check(IReadOnlyList<Egg> eggs)
    {
        ArgumentNullException.ThrowIfNull(eggs);
        if (eggs.Count > Limits.EggsPerClutch)
        {
            yield return ClutchRules.TooManyEggs("eggs", eggs.Count);
            yield break;
        }

        foreach (IGrouping<int, Egg> same in eggs.GroupBy(egg => egg.Number).Where(group => group.Count() > 1))
        {
            yield return Remark.Refused("eggs",
                $"Number {same.Key} is on {same.Count()} eggs. Each egg needs a number of its own: give one of them another.");
        }

        foreach (Egg egg in eggs)
        {
            if (egg.Number is < 1 or > Limits.EggNumber)
            {
                yield return Remark.Refused("eggs", $"An egg's number is between 1 and {Limits.EggNumber}, not {egg.Number}.");
            }

            if (!(egg.X is >= 0 and <= 1 && egg.Y is >= 0 and <= 1))
            {
                yield return Remark.Refused("eggs",
                    $"Egg {egg.Number} lies outside the tub: its place is a share of the tub's width and depth, 0 to 1.");
            }
        }

        foreach (IGrouping<int?, Egg> clump in eggs.Where(egg => egg.Clump is not null).GroupBy(egg => egg.Clump))
        {
            if (clump.Count() == 1)
            {
                yield return Remark.Said("eggs", $"Egg {clump.First().Number} is said to be stuck, but to no other egg.");
            }
        }
    }
}

/// <summary>A box that eggs lie in.</summary>
/// <param name="Key">Short name that never changes.</param>
/// <param name="Name">What is written on it.</param>
/// <param name="Substrate">What the eggs lie on or over, in the keeper's words; empty for none.</param>
/// <param name="SubstrateGrams">Dry mass of the substrate, g, or null.</param>
/// <param name="WaterGrams">Mass of the water, g, or null.</param>
public sealed record Tub(string Key, string Name, string Substrate, double? SubstrateGrams, double? WaterGrams)
{
    /// <summary>Grams of water to one gram of dry substrate, or null when one of them was not weighed.</summary>
    public double? WaterToSubstrate => SubstrateGrams is > 0 && WaterGrams is { } water ? water / SubstrateGrams : null;

    /// <summary>What is wrong with a tub as entered.</summary>
    public IEnumerable<Remark> Check()
    {
        if (string.IsNullOrWhiteSpace(Name) || Name.Length > Limits.NameLength)
        {
            yield return Remark.Refused("name", $"A tub needs a name of at most {Limits.NameLength} characters.");
        }

        if (SubstrateGrams is { } dry && !(dry is > 0 and <= 50_000))
        {
            yield return Remark.Refused("substrateGrams", "The substrate's mass is more than 0 and at most 50,000 g, or left out.");
        }

        if (WaterGrams is { } water && !(water is >= 0 and <= 50_000))
        {
            yield return Remark.Refused("waterGrams", "The water's mass is 0 to 50,000 g, or left out.");
        }
    }
}
