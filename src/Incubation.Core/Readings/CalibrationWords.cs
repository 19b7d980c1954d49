using System.Collections.Immutable;
using System.Globalization;

namespace Incubation.Core.Readings;

/// <summary>The words of calibrations: methods as they stand on the wire and on record, cautions, and what an entry says.</summary>
public static class CalibrationWords
{
    /// <summary>Temperature of melting ice at 101 325 Pa, °C.</summary>
    public const double IcePoint = 0;

    /// <summary>
    /// How far a keeper's ice bath may be off, K: crushed ice of clean water, just covered with cold water, stirred. From memory: a careful bath is
    /// within 0.002 K (ASTM E563); tap water and big cubes cost the rest. 300 m of height or a day's air pressure make 0.002 K at most.
    /// </summary>
    public const double IceUncertainty = 0.1;

    /// <summary>How the ice point is made.</summary>
    public const string IcePointWords =
        "Fill a flask with crushed ice of clean water, pour in cold water until the ice is just covered, stir, and wait 15 minutes. The probe's tip "
        + "hangs in the middle, not at the bottom or the wall. Melting ice is at 0.00 °C.";

    /// <summary>What to mind, whatever the method.</summary>
    public static ImmutableArray<string> Cautions { get; } =
    [
        "Water and mains don't go together: only a sealed low-voltage probe goes into an ice bath. Nothing with a mains cable, and no open board, goes near the water; unplug what the probe hangs on if in doubt.",
        "A hygrometer must never touch a salt solution or be splashed by it: a wet sensor is spoilt. Hang it in the air above, in a small closed jar.",
        "Lithium chloride is harmful if swallowed and irritates skin and eyes; magnesium nitrate irritates as dust and feeds fire. Wear gloves and glasses, label the jars, and keep all salts away from children, animals and food.",
        "A jar needs a wet slurry with crystals left, and a day at an even temperature: half a degree of difference between salt and probe is 2 %RH at the wet end.",
        "Keep the probe's place in the incubator watched by another probe while it is away.",
    ];

    /// <summary>What to mind with one method: whoever makes an ice bath need not read about salts.</summary>
    public static IReadOnlyList<string> CautionsOf(CalibrationMethod method) => method switch
    {
        CalibrationMethod.IceBath => [Cautions[0], Cautions[^1]],
        CalibrationMethod.SaturatedSalt => Cautions[1..],
        _ => Cautions[^1..],
    };

    /// <summary>The method's word: "ice bath", "reference thermometer", "reference hygrometer", "saturated salt"; "nothing" for a withdrawal.</summary>
    public static string Word(CalibrationMethod method) => method switch
    {
        CalibrationMethod.IceBath => "ice bath",
        CalibrationMethod.ReferenceThermometer => "reference thermometer",
        CalibrationMethod.ReferenceHygrometer => "reference hygrometer",
        CalibrationMethod.SaturatedSalt => "saturated salt",
        _ => "nothing",
    };

    /// <summary>The method of a word, or null.</summary>
    public static CalibrationMethod? MethodOf(string? word)
        => Enum.GetValues<CalibrationMethod>().Cast<CalibrationMethod?>().FirstOrDefault(method => Word(method!.Value) == word);

    /// <summary>What an entry says: "Ice bath: said 0.4, was 0.0 °C; read values are lowered by 0.4 °C."</summary>
    public static string Say(CalibrationEntry entry)
    {
        ArgumentNullException.ThrowIfNull(entry);
        if (entry.Points.IsEmpty)
        {
            return "Takes an earlier calibration away.";
        }

        string unit = entry.Series.Quantity.Unit == "Cel" ? "°C" : entry.Series.Quantity.Unit;
        string points = string.Join(", ", entry.Points.Select(point => Invariant($"said {point.Measured:0.##}, was {point.Truth:0.##} {unit}{Over(point)}")));
        string word = Word(entry.Method);
        return $"{char.ToUpperInvariant(word[0])}{word[1..]}: {points}; {Effect(entry, unit)}.";
    }

    private static string Effect(CalibrationEntry entry, string unit)
    {
        if (entry.Points.Length == 2)
        {
            return Invariant($"what it measures is multiplied by {entry.Gain:0.####} and {Moved(entry.Offset, unit)}");
        }

        return Math.Abs(entry.Offset) < 0.005 ? "it was right" : $"what it measures is {Moved(entry.Offset, unit)}";
    }

    private static string Moved(double offset, string unit)
        => Invariant($"{(offset < 0 ? "lowered" : "raised")} by {Math.Abs(offset):0.##} {unit}");

    private static string Over(CalibrationPoint point) => point.Salt is null ? "" : Invariant($" over {point.Salt} at {point.AtCelsius:0.#} °C");

    private static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
