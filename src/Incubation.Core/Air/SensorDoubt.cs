namespace Incubation.Core.Air;

/// <summary>
/// How far a probe's figures may be off. Humidity: ±3 %RH up to 80 %RH, growing to ±5 %RH at 100 %RH, because polymer hygrometers read
/// some points too high after days in air wetter than 80 %RH (data sheets of the common chips tell of +3 %RH after 60 hours; from memory).
/// Temperature: ±0.3 K (class of the common digital probes; common practice, no source).
/// </summary>
public static class SensorDoubt
{
    /// <summary>Doubt of a temperature, K, either way.</summary>
    public const double Celsius = 0.3;

    /// <summary>Further doubt when the temperature is another probe's than the hygrometer's, K: a cabinet differs by that much from place to place.</summary>
    public const double OtherPlace = 0.7;

    private const double Dry = 3;
    private const double Wet = 5;
    private const double WetFrom = 80;

    /// <summary>Doubt of a relative humidity, %RH, either way.</summary>
    /// <param name="humidity">What the probe says, %RH; more than 100 counts as 100.</param>
    public static double Humidity(double humidity)
        => Dry + ((Wet - Dry) * Math.Clamp((humidity - WetFrom) / (100 - WetFrom), 0, 1));
}
