using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>What is wrong with a probe itself, as far as its readings tell.</summary>
public enum TroubleKind
{
    /// <summary>It says the same for far longer than it ever did.</summary>
    Stuck,

    /// <summary>Its values jump as nothing in an incubator can.</summary>
    Jump,

    /// <summary>Its values scatter far more than they used to.</summary>
    Noise,

    /// <summary>It and another probe of the same incubator have drifted apart.</summary>
    Disagrees,

    /// <summary>It is said to lie in a tub and reads as if it did not.</summary>
    OutsideTheTub,
}

/// <summary>One point of evidence.</summary>
/// <param name="At">When.</param>
/// <param name="Value">In the quantity's unit; for two probes that disagree the difference between them.</param>
public readonly record struct TroublePoint(Instant At, double Value);

/// <summary>A trouble of a probe, with what shows it. It is an observation for a person to look into, never a reason to leave a reading out.</summary>
/// <param name="Kind">What kind.</param>
/// <param name="Series">Whose and of what.</param>
/// <param name="Since">Since when the readings show it.</param>
/// <param name="Words">In plain words, with figures.</param>
/// <param name="Evidence">At most <see cref="TroubleRules.EvidencePoints"/> points, in time order.</param>
/// <param name="Against">The other probe where two disagree, else null.</param>
/// <param name="Reference">What it is held against until it clears: the scatter, difference or temperature of before, in the quantity's unit.</param>
public sealed record Trouble(
    TroubleKind Kind, SeriesKey Series, Instant Since, string Words, IReadOnlyList<TroublePoint> Evidence, string? Against, double Reference)
{
    /// <summary>
    /// Whether it belongs on the first screen: where a keeper who trusts this probe may be wrong about the eggs. Jumps and scatter leave the
    /// middle of the values right.
    /// </summary>
    public bool IsSerious => Kind is TroubleKind.Stuck or TroubleKind.Disagrees or TroubleKind.OutsideTheTub;
}

/// <summary>One probe of an incubator as it is judged.</summary>
/// <param name="Probe">Its key.</param>
/// <param name="Name">What people call it.</param>
/// <param name="Tub">Key of the tub it lies in, or null for the air.</param>
/// <param name="Track">What is remembered of its readings since it was placed there.</param>
public sealed record TroubleProbe(string Probe, string Name, string? Tub, TroubleTrack Track);

/// <summary>How two probes of one incubator stood to each other when both had just been placed.</summary>
/// <param name="Difference">Median of the hourly differences, first minus second, in the quantity's unit.</param>
/// <param name="Spread">Robust spread of those (1.4826 × median absolute deviation).</param>
public readonly record struct PairPast(double Difference, double Spread)
{
    /// <summary>Hours that a past needs: a whole day, so that day and night are both in it.</summary>
    public const int FewestHours = 24;

    /// <summary>The past from hourly differences, or null when there are fewer than <see cref="FewestHours"/>.</summary>
    public static PairPast? Of(IEnumerable<double> hourly)
    {
        double[] all = [.. hourly];
        if (all.Length < FewestHours)
        {
            return null;
        }

        double middle = Robust.Median(all);
        return new PairPast(middle, 1.4826 * Robust.Median([.. all.Select(d => Math.Abs(d - middle))]));
    }
}
