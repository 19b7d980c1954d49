namespace Incubation.Core.Readings;

/// <summary>What a value is worth by itself and beside the last good one of its series.</summary>
public enum ValueVerdict
{
    /// <summary>A measurement.</summary>
    Good,

    /// <summary>A measurement of a saturated humidity sensor.</summary>
    Saturated,

    /// <summary>A value that the probe sends instead of a measurement: stored, never judged.</summary>
    Faulty,

    /// <summary>Below what the quantity can be here: rejected.</summary>
    TooLow,

    /// <summary>Above what the quantity can be here: rejected.</summary>
    TooHigh,
}

/// <summary>
/// Tells measurements from the values that probes send instead. Rules:
/// <list type="bullet">
/// <item>−127 °C is what the common libraries for 1-Wire bus probes return when the probe doesn't answer (common practice, no source): always faulty.</item>
/// <item>85.0 °C is the power-on content of the same probes' scratchpad (DS18B20 data sheet, Maxim Integrated,
/// table 1 and its note). It is faulty as the first value ever heard, and after a jump, that is, when the last good value is more than
/// <see cref="JumpCelsius"/> away. Without a jump it is a temperature, and too high like any other.</item>
/// <item>100–105 %RH is a saturated sensor: stored as sent, marked.</item>
/// <item>Otherwise −40…80 °C and 0…100 %RH are measurements and the rest is not; batteries are 0…110 % or 0…60 V, signals −150…20 dBm or
/// 0…100 %, contacts 0 or 1. Other quantities have no bounds.</item>
/// </list>
/// Faults are found after conversion, so a probe that turns −127 °C into −196.6 °F is found too.
/// </summary>
public static class ReadingJudge
{
    /// <summary>Least plausible temperature, °C: the lower end of the common air probes, colder than any room that holds eggs.</summary>
    public const double LeastCelsius = -40;

    /// <summary>Greatest plausible temperature, °C: far above any incubator, below the power-on value of bus probes.</summary>
    public const double GreatestCelsius = 80;

    /// <summary>From here a humidity sensor is saturated, %RH.</summary>
    public const double SaturatedFrom = 100;

    /// <summary>Greatest value of a saturated sensor, %RH: conversions of the common chips end near here. Above it is no humidity.</summary>
    public const double SaturatedTo = 105;

    /// <summary>What a bus probe that doesn't answer reads as, °C.</summary>
    public const double NoAnswerCelsius = -127;

    /// <summary>What a bus probe reads as before its first conversion, °C.</summary>
    public const double PowerOnCelsius = 85;

    /// <summary>A change between neighbouring readings that air in an incubator can't make, K.</summary>
    public const double JumpCelsius = 10;

    /// <summary>Greatest charge of a battery, %: gauges read a little over 100 while charging. More is another unit.</summary>
    public const double GreatestCharge = 110;

    /// <summary>Greatest voltage, V: above any battery of a probe or of a room's standby supply (48 V nominal).</summary>
    public const double GreatestVolts = 60;

    /// <summary>Least signal strength, dBm: below the thermal noise of the narrowest radio in use.</summary>
    public const double LeastSignal = -150;

    /// <summary>Greatest signal strength, dBm: what a small radio sends at its own antenna.</summary>
    public const double GreatestSignal = 20;

    // Half the finest step of a 12-bit bus probe (0.0625 K): passes rounding of unit conversions, and no neighbouring step.
    private const double Tolerance = 0.03125;

    /// <summary>Judges a value.</summary>
    /// <param name="quantity">What was measured.</param>
    /// <param name="held">The value in the held unit; may be infinite, which is too low or too high.</param>
    /// <param name="previous">What is remembered of the series, or null when no good value was ever heard.</param>
    public static ValueVerdict Judge(Quantity quantity, double held, ReadingMemory? previous)
    {
        return quantity.Kind switch
        {
            QuantityKind.Temperature => JudgeTemperature(held, previous),
            QuantityKind.Humidity => JudgeHumidity(held),
            QuantityKind.Charge => Within(held, 0, GreatestCharge),
            QuantityKind.Voltage => Within(held, 0, GreatestVolts),
            QuantityKind.Signal => Within(held, LeastSignal, GreatestSignal),
            QuantityKind.Quality => Within(held, 0, 100),
            // Half open is no state of a contact.
            QuantityKind.Contact => held is 0 or 1 ? ValueVerdict.Good : held < 0 ? ValueVerdict.TooLow : ValueVerdict.TooHigh,
            _ => ValueVerdict.Good,
        };
    }

    private static ValueVerdict JudgeHumidity(double held) => held switch
    {
        < 0 => ValueVerdict.TooLow,
        < SaturatedFrom => ValueVerdict.Good,
        <= SaturatedTo => ValueVerdict.Saturated,
        _ => ValueVerdict.TooHigh,
    };

    private static ValueVerdict Within(double held, double least, double greatest) =>
        held < least ? ValueVerdict.TooLow : held > greatest ? ValueVerdict.TooHigh : ValueVerdict.Good;

    private static ValueVerdict JudgeTemperature(double celsius, ReadingMemory? previous)
    {
        if (Math.Abs(celsius - NoAnswerCelsius) < Tolerance)
        {
            return ValueVerdict.Faulty;
        }

        if (Math.Abs(celsius - PowerOnCelsius) < Tolerance
            && (previous is not { } last || Math.Abs(celsius - last.LastGood) > JumpCelsius))
        {
            return ValueVerdict.Faulty;
        }

        return celsius < LeastCelsius ? ValueVerdict.TooLow : celsius > GreatestCelsius ? ValueVerdict.TooHigh : ValueVerdict.Good;
    }
}
