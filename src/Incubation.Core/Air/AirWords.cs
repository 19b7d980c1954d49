using System.Globalization;
using Incubation.Core.FirstScreen;
using Incubation.Core.Readings;

namespace Incubation.Core.Air;

/// <summary>A place whose temperature is known beside the hygrometer's.</summary>
/// <param name="Name">What people call the probe there.</param>
/// <param name="Celsius">Its temperature, °C.</param>
public sealed record Surface(string Name, double Celsius);

/// <summary>What the state of the air means for eggs and lids, in words.</summary>
public static class AirWords
{
    /// <summary>Below this deficit of cooling water is on its way to the lid, K: an ordinary cabinet differs by about as much from place to place.</summary>
    private const double Near = 1.0;

    /// <summary>The sentence, or several.</summary>
    /// <param name="air">The air.</param>
    /// <param name="coolest">The coolest other probe in the same incubator, or null.</param>
    /// <param name="scale">Scale of temperatures.</param>
    public static string Say(AirState air, Surface? coolest, TemperatureScale scale)
    {
        ArgumentNullException.ThrowIfNull(air);
        if (air.DewPoint is not { } dew || air.DewPointSpread.High is not { } most)
        {
            return "The air is too dry for a dew point: nothing drips.";
        }

        string least = air.DewPointSpread.Low is { } low ? Temperature(low, scale) : "much lower";
        string drips = string.Create(CultureInfo.InvariantCulture,
            $"Anything at {Temperature(dew, scale)} or cooler drips ({least} to {Temperature(most, scale)} with the sensor's doubt): ")
            + $"an egg or a lid {Spoken.Difference(air.DripsWhenCoolerBy!.Value, Quantity.Temperature, scale)} cooler than the air.";
        string saturated = air.Saturated ? " The hygrometer is saturated: the air is very wet, and how wet is not known." : "";
        return drips + saturated + Where(air, coolest, scale) + (Drying(air) is { } drying ? " " + drying : "");
    }

    private static string Where(AirState air, Surface? coolest, TemperatureScale scale)
        => coolest is null ? "" : air.Drips(coolest.Celsius) switch
        {
            true => $" At {coolest.Name} it is {Temperature(coolest.Celsius, scale)}: water condenses there.",
            null => $" At {coolest.Name} it is {Temperature(coolest.Celsius, scale)}: water may condense there.",
            false => $" At {coolest.Name} it is {Temperature(coolest.Celsius, scale)}: no water condenses there.",
        };

    private static string? Drying(AirState air) => air.DripsWhenCoolerBy < Near
        ? "Drops that fall on eggs do harm: tilt the lid or line it, so that they run off beside the eggs."
        : null;

    private static string Temperature(double celsius, TemperatureScale scale) => Spoken.Value(celsius, Quantity.Temperature, scale);
}
