namespace Incubation.Simulation.Air;

/// <summary>Water vapour in air at ordinary pressure, as far as a simulated cabinet needs it.</summary>
public static class MoistAir
{
    /// <summary>Gas constant of water vapour, J/(kg·K). From memory: 8.314 462 J/(mol·K) over 18.015 g/mol.</summary>
    private const double VapourGasConstant = 461.5;

    /// <summary>
    /// Saturation vapour pressure over water, hPa, for −45 to 60 °C. Source: WMO-No. 8, Guide to Instruments and Methods of
    /// Observation, Annex 4.B (Magnus form without the enhancement factor, which is under 0.5 % here).
    /// </summary>
    public static double SaturationPressure(double celsius) => 6.112 * Math.Exp(17.62 * celsius / (243.12 + celsius));

    /// <summary>Relative humidity over water, %RH, of vapour at <paramref name="pressure"/> hPa in air of <paramref name="celsius"/> °C.</summary>
    public static double RelativeHumidity(double pressure, double celsius) => 100 * pressure / SaturationPressure(celsius);

    /// <summary>Grams of water in one m³ at a vapour pressure of <paramref name="pressure"/> hPa: the ideal gas law.</summary>
    public static double GramsPerCubicMetre(double pressure, double celsius)
        => 100_000 * pressure / (VapourGasConstant * (celsius + 273.15));
}
