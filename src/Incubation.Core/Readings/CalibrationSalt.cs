using System.Collections.Immutable;

namespace Incubation.Core.Readings;

/// <summary>
/// A saturated salt solution, over which air in a small closed jar has a known humidity. Humidities: Greenspan 1977, Humidity fixed points of
/// binary saturated aqueous solutions, Journal of Research of the National Bureau of Standards 81A:89–96, as polynomials of the temperature
/// in °C; the printed table is these, cut to two decimals. Good from 0 to 50 °C.
/// </summary>
/// <param name="Key">Formula: "NaCl".</param>
/// <param name="Name">Name: "table salt (sodium chloride)".</param>
/// <param name="Uncertainty">How far the humidity over it may be off at 25 °C, %RH; rounded up from the publication's own estimate, for a keeper's jar.</param>
/// <param name="Coefficients">Of t⁰, t¹, …, %RH.</param>
/// <param name="Caution">What to mind when handling it.</param>
public sealed record CalibrationSalt(string Key, string Name, double Uncertainty, ImmutableArray<double> Coefficients, string Caution)
{
    /// <summary>Least temperature of the jar, °C.</summary>
    public const double LeastCelsius = 0;

    /// <summary>Greatest temperature of the jar, °C.</summary>
    public const double GreatestCelsius = 50;

    /// <summary>Where the figures come from.</summary>
    public const string Source = "Greenspan, L. (1977), Humidity fixed points of binary saturated aqueous solutions, J. Res. NBS 81A:89-96";

    private const string Irritant = "Irritates eyes and skin as dust: wear gloves and glasses.";
    private const string Mild = "Not for eating; wash hands.";

    /// <summary>The salts, from dry to wet.</summary>
    public static ImmutableArray<CalibrationSalt> All { get; } =
    [
        new("LiCl", "lithium chloride", 0.6, [11.2323, 0.00824245, -0.214890e-3],
            "Harmful if swallowed; irritates skin and seriously irritates eyes: gloves, glasses, and out of reach of children and animals."),
        new("MgCl2", "magnesium chloride", 0.4, [33.6686, -0.00797397, -0.108988e-2], Mild),
        new("Mg(NO3)2", "magnesium nitrate", 0.7, [60.3514, -0.298152], Irritant + " An oxidiser: keep it dry and away from what burns."),
        new("NaCl", "table salt (sodium chloride)", 0.4, [75.5164, 0.0398321, -0.265459e-2, 0.284800e-4], Mild),
        new("KCl", "potassium chloride", 0.6, [88.6190, -0.193340, 0.899706e-3], Mild),
        new("K2SO4", "potassium sulfate", 1.1, [98.7792, -0.0590502], Mild),
    ];

    /// <summary>The salt of a formula, or null.</summary>
    public static CalibrationSalt? Find(string? key) => All.FirstOrDefault(salt => salt.Key == key);

    /// <summary>Relative humidity over the solution, %RH.</summary>
    /// <param name="celsius">Temperature of the jar, 0 to 50 °C.</param>
    /// <exception cref="ArgumentOutOfRangeException">The temperature is outside.</exception>
    public double HumidityAt(double celsius)
    {
        if (celsius is not (>= LeastCelsius and <= GreatestCelsius))
        {
            throw new ArgumentOutOfRangeException(nameof(celsius), celsius, "The salts' humidity is known from 0 to 50 °C.");
        }

        double humidity = 0;
        for (int i = Coefficients.Length - 1; i >= 0; i--)
        {
            humidity = (humidity * celsius) + Coefficients[i];
        }

        return humidity;
    }
}
