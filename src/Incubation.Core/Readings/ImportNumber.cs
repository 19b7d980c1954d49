using System.Globalization;

namespace Incubation.Core.Readings;

/// <summary>Reads the numbers of a file.</summary>
public static class ImportNumber
{
    // A double has at most 17 significant digits; what is longer than this is no figure that somebody measured.
    private const int Longest = 64;

    /// <summary>Reads a finite number with a decimal point or comma, without separators of thousands.</summary>
    /// <param name="text">The field; blanks around the number don't count.</param>
    /// <param name="comma">Whether the decimal mark is a comma; a point is then no number.</param>
    /// <param name="value">The number, or 0.</param>
    public static bool TryRead(scoped ReadOnlySpan<byte> text, bool comma, out double value)
    {
        text = text.Trim((byte)' ');
        value = 0;
        if (text.Length is 0 or > Longest || text[^1] is not (>= (byte)'0' and <= (byte)'9' or (byte)'.' or (byte)','))
        {
            return false;
        }

        Span<byte> copy = stackalloc byte[Longest];
        if (comma)
        {
            if (text.Contains((byte)'.'))
            {
                return false;
            }

            text.CopyTo(copy);
            copy = copy[..text.Length];
            copy.Replace((byte)',', (byte)'.');
            text = copy;
        }

        return double.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint | NumberStyles.AllowExponent, CultureInfo.InvariantCulture, out value)
            && double.IsFinite(value);
    }
}
