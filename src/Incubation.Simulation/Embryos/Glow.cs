namespace Incubation.Simulation.Embryos;

/// <summary>What an egg glows like under a candling lamp.</summary>
public enum Glow
{
    /// <summary>Peach to orange.</summary>
    Peach,

    /// <summary>Pink.</summary>
    Pink,

    /// <summary>With a green cast.</summary>
    Greenish,

    /// <summary>Plain yellow.</summary>
    Yellow,

    /// <summary>Pale.</summary>
    OffWhite,

    /// <summary>Hardly at all.</summary>
    Dark,
}

/// <summary>
/// How the glow goes with age and with what the embryo carries. That carriers of a trait glow greenish is common practice in some lines,
/// no source; shares and stages are invented.
/// </summary>
public sealed record GlowNature
{
    /// <summary>Stage from which carrying shows; each egg a little earlier or later.</summary>
    public double ShowsFrom { get; init; } = 0.07;

    /// <summary>Stage at which the others turn from peach to pink; each egg a good deal earlier or later.</summary>
    public double PinkFrom { get; init; } = 0.35;

    /// <summary>Stage from which the embryo fills the egg and little light comes through.</summary>
    public double DarkFrom { get; init; } = 0.9;

    /// <summary>Share of carriers that glow like the others: no lamp and no care would tell them.</summary>
    public double CarriersThatDoNot { get; init; } = 0.06;

    /// <summary>Share of the others that glow greenish.</summary>
    public double OthersThatDo { get; init; } = 0.04;
}
