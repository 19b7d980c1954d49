namespace Incubation.Core.Air;

/// <summary>A figure with the least and the most that it can be.</summary>
/// <param name="Low">Least, or null when it can't be told (a dew point of dry air).</param>
/// <param name="High">Most.</param>
public readonly record struct Spread(double? Low, double? High);

/// <summary>
/// Air in an incubator as one probe, or two, tell of it, with the sensors' doubt carried through: each figure is worked out at the corners
/// of what temperature and humidity can be, which holds because each rises or falls steadily with both.
/// </summary>
public sealed record AirState
{
    private AirState(double celsius, double humidity, bool saturated, double celsiusDoubt)
    {
        (Celsius, Humidity, Saturated) = (celsius, humidity, saturated);
        double off = SensorDoubt.Humidity(humidity);
        double dry = Math.Max(0, humidity - off), wet = saturated ? 100 : Math.Min(100, humidity + off);
        double cold = Within(celsius - celsiusDoubt), warm = Within(celsius + celsiusDoubt);
        CelsiusSpread = new Spread(cold, warm);
        HumiditySpread = new Spread(dry, wet);
        DewPoint = Vapour.DewPoint(celsius, humidity);
        DewPointSpread = new Spread(Vapour.DewPoint(cold, dry), Vapour.DewPoint(warm, wet));
        AbsoluteHumidity = Vapour.AbsoluteHumidity(celsius, humidity);
        AbsoluteHumiditySpread = new Spread(Vapour.AbsoluteHumidity(cold, dry), Vapour.AbsoluteHumidity(warm, wet));
        Deficit = Vapour.Deficit(celsius, humidity);
        DeficitSpread = new Spread(Vapour.Deficit(cold, wet), Vapour.Deficit(warm, dry));
    }

    /// <summary>Temperature of the air, °C.</summary>
    public double Celsius { get; }

    /// <summary>Relative humidity over water, %RH, at most 100.</summary>
    public double Humidity { get; }

    /// <summary>Whether the hygrometer said 100 %RH or more: very wet, and no more than that is known.</summary>
    public bool Saturated { get; }

    /// <summary>Dew point over water, °C: a lid or an egg at or below it drips. Null for air too dry to tell.</summary>
    public double? DewPoint { get; }

    /// <summary>Absolute humidity, g/m³.</summary>
    public double AbsoluteHumidity { get; }

    /// <summary>Vapour pressure deficit, kPa.</summary>
    public double Deficit { get; }

    /// <summary>Least and most of the temperature, °C.</summary>
    public Spread CelsiusSpread { get; }

    /// <summary>Least and most of the humidity, %RH.</summary>
    public Spread HumiditySpread { get; }

    /// <summary>Least and most of the dew point, °C.</summary>
    public Spread DewPointSpread { get; }

    /// <summary>Least and most of the absolute humidity, g/m³.</summary>
    public Spread AbsoluteHumiditySpread { get; }

    /// <summary>Least and most of the deficit, kPa.</summary>
    public Spread DeficitSpread { get; }

    /// <summary>How much cooler than the air a surface may be before it drips, K; null for air too dry to tell.</summary>
    public double? DripsWhenCoolerBy => Celsius - DewPoint;

    /// <summary>The air that a probe tells of.</summary>
    /// <param name="celsius">Its temperature, °C, −40 to 80.</param>
    /// <param name="humidity">Its relative humidity, %RH, 0 or more; more than 100 counts as 100 and saturated. A corrected value a little below 0 counts as 0.</param>
    /// <param name="saturated">Whether the reading was marked as saturated.</param>
    /// <param name="otherPlace">Whether the temperature is another probe's than the hygrometer's.</param>
    /// <returns>Null when a figure is no number or the temperature is outside −40 to 80 °C.</returns>
    public static AirState? Of(double celsius, double humidity, bool saturated = false, bool otherPlace = false)
        => celsius is >= Vapour.LeastCelsius and <= Vapour.GreatestCelsius && double.IsFinite(humidity)
            ? new AirState(
                celsius, Math.Clamp(humidity, 0, 100), saturated || humidity >= 100, SensorDoubt.Celsius + (otherPlace ? SensorDoubt.OtherPlace : 0))
            : null;

    /// <summary>Whether water condenses on something at a temperature.</summary>
    /// <param name="surface">Temperature of the egg or lid, °C.</param>
    /// <returns>True when it does, false when it doesn't, null when the sensors' doubt leaves it open.</returns>
    public bool? Drips(double surface)
        => surface <= DewPointSpread.Low ? true : DewPointSpread.High is { } high && surface <= high ? null : false;

    private static double Within(double celsius) => Math.Clamp(celsius, Vapour.LeastCelsius, Vapour.GreatestCelsius);
}
