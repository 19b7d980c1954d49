using System.Globalization;
using Incubation.Core.FirstScreen;
using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>Figures of troubles as a person says them. Differences of temperature need their second decimal, in °C.</summary>
internal static class TroubleWords
{
    public static string Value(double value, Quantity quantity)
    {
        string number = value.ToString(quantity == Quantity.Temperature ? "0.0#" : "0.#", CultureInfo.InvariantCulture);
        string unit = quantity == Quantity.Temperature ? "°C" : quantity.Unit;
        return unit.Length == 0 ? number : $"{number} {unit}";
    }

    public static string Length(Duration time) => Spoken.Length(time);

    public static string Times(double ratio) => ratio >= 10 ? "more than ten times" : ratio.ToString("0", CultureInfo.InvariantCulture) + " times";

    public static string Names(IReadOnlyList<TroubleProbe> probes) => Spoken.List([.. probes.Select(p => p.Name)]);
}
