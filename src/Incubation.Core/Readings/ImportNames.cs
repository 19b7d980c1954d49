using System.Text;

namespace Incubation.Core.Readings;

/// <summary>Names of probes, quantities and units as they stand in files.</summary>
public static class ImportNames
{
    /// <summary>What a key of a probe may be, in words.</summary>
    public const string ProbeAllowed = "1 to 80 characters on one line, without +, # and /, as it stands in a probe's topic.";

    /// <summary>Whether a text can be the key of a probe: what a topic may hold in its place.</summary>
    public static bool IsProbe(ReadOnlySpan<char> text)
    {
        if (text.IsEmpty || text.Length > Limits.NameLength || text.IsWhiteSpace())
        {
            return false;
        }

        foreach (char c in text)
        {
            if (char.IsControl(c) || c is '+' or '#' or '/' || char.IsSurrogate(c))
            {
                return false;
            }
        }

        return true;
    }

    /// <summary>A name without the blanks around it, and without the apostrophe by which an export keeps a spreadsheet from taking it for a formula.</summary>
    public static ReadOnlySpan<char> Plain(ReadOnlySpan<char> text)
    {
        text = text.Trim();
        return text.Length > 1 && text[0] == '\'' && text[1] is '=' or '+' or '-' or '@' ? text[1..] : text;
    }

    /// <summary>The quantity that a text names, in any case and with blanks or underscores for hyphens; null when it names none.</summary>
    public static Quantity? QuantityOf(ReadOnlySpan<char> text)
    {
        text = Plain(text);
        if (text.Length is 0 or > Quantity.LongestName)
        {
            return null;
        }

        Span<char> name = stackalloc char[Quantity.LongestName];
        text.ToLowerInvariant(name);
        name = name[..text.Length];
        name.Replace(' ', '-');
        name.Replace('_', '-');
        return Quantity.IsName(name) ? new Quantity(name.ToString()) : null;
    }

    /// <summary>
    /// The code of a unit (see <see cref="Units"/>) for what people write: <c>°C</c>, <c>C</c>, <c>°F</c>, <c>F</c>, <c>%</c> and the codes
    /// themselves. Anything else is given back as it is.
    /// </summary>
    public static byte[] UnitOf(ReadOnlySpan<char> text)
    {
        string unit = text.Trim().ToString();
        return Encoding.UTF8.GetBytes(unit switch
        {
            "°C" or "ºC" or "℃" or "C" or "degC" or "deg C" or "° C" or "Celsius" or "celsius" => "Cel",
            "°F" or "ºF" or "℉" or "F" or "degF" or "deg F" or "° F" or "Fahrenheit" or "fahrenheit" => "[degF]",
            "Kelvin" or "kelvin" or "°K" => "K",
            "% RH" or "%rH" or "% rH" or "RH" or "RH%" or "%rh" or "%r.F." or "% r.F." => "%RH",
            "Ω" or "ohm" => "Ohm",
            _ => unit,
        });
    }
}
