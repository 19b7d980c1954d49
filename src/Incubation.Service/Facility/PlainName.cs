using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Text;
using Incubation.Core;

namespace Incubation.Service.Facility;

/// <summary>Names that people give to incubators, probes and places: any text on one line. Markup in them is just text.</summary>
internal static class PlainName
{
    public static string Allowed { get; } = string.Create(
        CultureInfo.InvariantCulture, $"1 to {Limits.NameLength} characters on one line, more than spaces.");

    /// <summary>The name without spaces around it, or false when it can't be one.</summary>
    public static bool TryRead(string? raw, [NotNullWhen(true)] out string? name)
    {
        name = raw?.Trim();
        if (string.IsNullOrEmpty(name))
        {
            return false;
        }

        int characters = 0;
        bool visible = false;
        foreach (Rune rune in name.EnumerateRunes())
        {
            // A lone surrogate is enumerated as U+FFFD and could not be written to the database as it came.
            if (++characters > Limits.NameLength || Rune.IsControl(rune) || rune == Rune.ReplacementChar || IsLineBreak(rune))
            {
                return false;
            }

            visible |= Rune.GetUnicodeCategory(rune) != UnicodeCategory.Format && !Rune.IsWhiteSpace(rune);
        }

        return visible;
    }

    private static bool IsLineBreak(Rune rune)
        => Rune.GetUnicodeCategory(rune) is UnicodeCategory.LineSeparator or UnicodeCategory.ParagraphSeparator;
}
