using Incubation.Core.Development;

namespace Incubation.Reference.Tests.Development;

/// <summary>A published mean duration at one constant temperature with its standard deviation, days.</summary>
internal sealed record Published(double Celsius, double Days, double Sd)
{
    public ConstantDuration Duration => new(Celsius, Days);
}

/// <summary>Series that several checks use. Each check names their source.</summary>
internal static class PublishedDurations
{
    /// <summary>Crocodylus palustris: Lang, Andrews and Whitaker 1989, Am. Zool. 29:935, Table B.</summary>
    public static IReadOnlyList<Published> Mugger { get; } =
    [
        new(28, 99.8, 1.28), new(28.5, 93.1, 2.28), new(29, 89.3, 2.24), new(29.5, 83.6, 3.08), new(30, 79.8, 1.58), new(30.5, 76.3, 1.21),
        new(31, 72.8, 0.97), new(31.5, 70.6, 0.53), new(32, 66.9, 1.72), new(32.5, 65.4, 0.73), new(33, 63.4, 3.07),
    ];

    /// <summary>Caretta caretta: Mrosovsky, Kamel, Rees and Margaritoulis 2002, Can. J. Zool. 80:2118, Table 1; SD 0.5 to 1.8.</summary>
    public static IReadOnlyList<Published> Loggerhead { get; } =
    [
        new(27.1, 65.6, 1.8), new(27.3, 65.3, 1.8), new(28.3, 57.9, 1.8), new(28.5, 56.5, 1.8), new(29.0, 54.8, 1.8), new(29.2, 53.1, 1.8),
        new(30.5, 47.1, 1.8), new(30.8, 47.1, 1.8), new(31.0, 46.3, 1.8),
    ];
}
