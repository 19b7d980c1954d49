using System.Globalization;
using Incubation.Core.Readings;
using NodaTime;
using NodaTime.Text;

namespace Incubation.Core.FirstScreen;

/// <summary>Scale of temperatures in sentences. Values elsewhere stay in °C.</summary>
public enum TemperatureScale
{
    /// <summary>°C.</summary>
    Celsius,

    /// <summary>°F: °C × 9/5 + 32, exact by definition (NIST SP 811, appendix B.8).</summary>
    Fahrenheit,
}

/// <summary>Values and times as a person says them. Always with the unit, always with a decimal point.</summary>
public static class Spoken
{
    private static readonly LocalTimePattern Clock = LocalTimePattern.CreateWithInvariantCulture("HH:mm");

    /// <summary>A value with its unit: "31.4 °C", "88.5 °F", "84 %RH".</summary>
    /// <param name="value">In the quantity's unit (°C, %RH or as sent).</param>
    /// <param name="quantity">What it is.</param>
    /// <param name="scale">Scale for temperatures; others are not changed.</param>
    public static string Value(double value, Quantity quantity, TemperatureScale scale)
        => IsFahrenheit(quantity, scale) ? WithUnit((value * 9 / 5) + 32, "°F", "0.0") : Own(value, quantity);

    /// <summary>A difference of two values with its unit; never offset, so 1 °C is 1.8 °F.</summary>
    /// <param name="difference">In the quantity's unit; its sign is left out.</param>
    /// <param name="quantity">What it is.</param>
    /// <param name="scale">Scale for temperatures.</param>
    public static string Difference(double difference, Quantity quantity, TemperatureScale scale)
        => IsFahrenheit(quantity, scale) ? WithUnit(Math.Abs(difference) * 9 / 5, "°F", "0.0") : Own(Math.Abs(difference), quantity);

    /// <summary>How long: "less than a minute", "12 minutes", "1 hour 5 minutes", "3 days". A negative time counts as none.</summary>
    public static string Length(Duration time)
    {
        double minutes = Math.Floor(Math.Max(0, time.TotalMinutes));
        if (minutes < 1)
        {
            return "less than a minute";
        }

        if (minutes < 60)
        {
            return Count(minutes, "minute");
        }

        double hours = Math.Floor(minutes / 60);
        if (hours >= 48)
        {
            return Count(Math.Floor(hours / 24), "day");
        }

        double rest = minutes - (hours * 60);
        return rest == 0 ? Count(hours, "hour") : $"{Count(hours, "hour")} {Count(rest, "minute")}";
    }

    /// <summary>Local clock time: "03:12".</summary>
    public static string Time(Instant at, DateTimeZone zone) => Clock.Format(at.InZone(zone).TimeOfDay);

    /// <summary>"1 minute", "2 minutes".</summary>
    public static string Count(double number, string noun)
        => string.Create(CultureInfo.InvariantCulture, $"{number:0} {noun}{(number == 1 ? "" : "s")}");

    /// <summary>"Hazel", "Hazel and Rowan", "Hazel, Rowan and Alder".</summary>
    public static string List(IReadOnlyList<string> names) => names.Count switch
    {
        0 => "",
        1 => names[0],
        _ => $"{string.Join(", ", names.Take(names.Count - 1))} and {names[^1]}",
    };

    private static bool IsFahrenheit(Quantity quantity, TemperatureScale scale)
        => quantity == Quantity.Temperature && scale == TemperatureScale.Fahrenheit;

    private static string Own(double value, Quantity quantity)
        => quantity == Quantity.Temperature ? WithUnit(value, "°C", "0.0") : WithUnit(value, quantity.Unit, "0.#");

    private static string WithUnit(double value, string unit, string format)
    {
        string number = value.ToString(format, CultureInfo.InvariantCulture);
        return unit.Length == 0 ? number : $"{(number == "-0" ? "0" : number)} {unit}";
    }
}
