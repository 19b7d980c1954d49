using System.Globalization;
using System.Text;

namespace Incubation.Service.Facility;

/// <summary>Makes the short key that stands in topics and addresses (a–z, 0–9, hyphen) from a name.</summary>
internal static class KeyFromName
{
    private const int Longest = 40;

    /// <summary>A key for <paramref name="name"/> that <paramref name="isTaken"/> does not know yet.</summary>
    public static string Make(string name, string fallback, Func<string, bool> isTaken)
    {
        string stem = Stem(name);
        if (stem.Length == 0)
        {
            stem = fallback;
        }

        string key = stem;
        for (int n = 2; isTaken(key); n++)
        {
            key = string.Create(CultureInfo.InvariantCulture, $"{stem}-{n}");
        }

        return key;
    }

    private static string Stem(string name)
    {
        StringBuilder stem = new();
        foreach (char c in name.Normalize(NormalizationForm.FormD).ToLowerInvariant())
        {
            if (char.IsAsciiLetterLower(c) || char.IsAsciiDigit(c))
            {
                stem.Append(c);
            }
            else if (CharUnicodeInfo.GetUnicodeCategory(c) != UnicodeCategory.NonSpacingMark && stem.Length > 0 && stem[^1] != '-')
            {
                stem.Append('-');
            }

            if (stem.Length == Longest)
            {
                break;
            }
        }

        return stem.ToString().Trim('-');
    }
}
