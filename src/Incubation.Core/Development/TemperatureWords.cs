using System.Globalization;

namespace Incubation.Core.Development;

/// <summary>The scale a keeper reads temperatures in.</summary>
public enum TemperatureScale
{
    /// <summary>°C.</summary>
    Celsius,

    /// <summary>°F.</summary>
    Fahrenheit,
}

/// <summary>Temperatures in words, with their unit.</summary>
public static class TemperatureWords
{
    /// <summary>A temperature to a tenth, "31.4 °C".</summary>
    public static string Value(double celsius, TemperatureScale scale) => scale == TemperatureScale.Fahrenheit
        ? string.Create(CultureInfo.InvariantCulture, $"{(celsius * 1.8) + 32:0.0} °F")
        : string.Create(CultureInfo.InvariantCulture, $"{celsius:0.0} °C");

    /// <summary>A difference of temperatures to a tenth: no 32 is added.</summary>
    public static string Difference(double celsius, TemperatureScale scale) => scale == TemperatureScale.Fahrenheit
        ? string.Create(CultureInfo.InvariantCulture, $"{celsius * 1.8:0.0} °F")
        : string.Create(CultureInfo.InvariantCulture, $"{celsius:0.0} °C");

    /// <summary>Degree-hours to a tenth.</summary>
    public static string DegreeHours(double celsiusHours, TemperatureScale scale) => scale == TemperatureScale.Fahrenheit
        ? string.Create(CultureInfo.InvariantCulture, $"{celsiusHours * 1.8:0.0} °F·h")
        : string.Create(CultureInfo.InvariantCulture, $"{celsiusHours:0.0} °C·h");
}
