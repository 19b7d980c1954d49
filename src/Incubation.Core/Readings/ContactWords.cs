using System.Text;

namespace Incubation.Core.Readings;

/// <summary>What contacts say instead of 1 and 0.</summary>
internal static class ContactWords
{
    /// <summary>Reads open or true as 1 and closed or false as 0, in any case.</summary>
    public static bool TryRead(ReadOnlySpan<byte> text, out double state)
    {
        bool open = Ascii.EqualsIgnoreCase(text, "open"u8) || Ascii.EqualsIgnoreCase(text, "true"u8);
        state = open ? 1 : 0;
        return open || Ascii.EqualsIgnoreCase(text, "closed"u8) || Ascii.EqualsIgnoreCase(text, "false"u8);
    }
}
