using System.Text;
using System.Text.Json;

namespace Incubation.Core.Readings;

/// <summary>
/// What a probe, or its last will, says of itself on its status topic: <c>online</c> or <c>offline</c>, as bare text, as a JSON text, or in a JSON
/// object under <c>state</c> or <c>status</c>; in any case.
/// </summary>
public static class Availability
{
    /// <summary>Longest payload that is read, bytes. Boards put a version or an address beside it, and no more.</summary>
    public const int LongestBytes = 512;

    private const int MaxDepth = 4;

    /// <summary>Reads a status. Never throws on bad input.</summary>
    /// <param name="payload">The message's bytes.</param>
    /// <param name="online">Whether the probe says that it is there.</param>
    public static bool TryRead(ReadOnlySpan<byte> payload, out bool online)
    {
        online = false;
        ReadOnlySpan<byte> text = payload.Trim(" \t\r\n"u8);
        if (text.IsEmpty || text.Length > LongestBytes)
        {
            return false;
        }

        if (text[0] is not ((byte)'{' or (byte)'"'))
        {
            return TryWord(text, out online);
        }

        try
        {
            Utf8JsonReader json = new(text, new JsonReaderOptions { MaxDepth = MaxDepth });
            json.Read();
            bool read = json.TokenType == JsonTokenType.String ? TryWord(ref json, out online) : TryObject(ref json, out online);
            json.Read(); // Throws when something follows.
            return read;
        }
        catch (Exception error) when (error is JsonException or InvalidOperationException)
        {
            online = false;
            return false;
        }
    }

    private static bool TryObject(ref Utf8JsonReader json, out bool online)
    {
        (bool read, online) = (false, false);
        while (json.Read() && json.TokenType == JsonTokenType.PropertyName)
        {
            bool ours = json.ValueTextEquals("state"u8) || json.ValueTextEquals("status"u8);
            json.Read();
            if (ours && json.TokenType == JsonTokenType.String && TryWord(ref json, out bool said))
            {
                (read, online) = (true, said);
            }

            json.Skip();
        }

        return read;
    }

    private static bool TryWord(ref Utf8JsonReader json, out bool online) => TryWord(json.ValueSpan, out online);

    private static bool TryWord(ReadOnlySpan<byte> text, out bool online)
    {
        online = Ascii.EqualsIgnoreCase(text, "online"u8);
        return online || Ascii.EqualsIgnoreCase(text, "offline"u8);
    }
}
