using System.Text.Json;

namespace Incubation.Core.Readings;

/// <summary>SenML in JSON (RFC 8428, section 5).</summary>
internal static class SenMLJson
{
    private const int MaxDepth = 16;

    /// <summary>Reads a list of records; gives the reason when it can't.</summary>
    public static string? Read(ReadOnlySpan<byte> text, SenMLPack pack)
    {
        try
        {
            return Records(text, pack);
        }
        catch (JsonException)
        {
            return Rejections.BrokenPack;
        }
        catch (InvalidOperationException)
        {
            // An escaped lone surrogate in a name or a text.
            return Rejections.NotUtf8;
        }
    }

    private static string? Records(ReadOnlySpan<byte> text, SenMLPack pack)
    {
        Utf8JsonReader json = new(text, new JsonReaderOptions { MaxDepth = MaxDepth });
        string? reason = null;
        json.Read();
        while (json.Read() && json.TokenType != JsonTokenType.EndArray)
        {
            if (json.TokenType != JsonTokenType.StartObject)
            {
                reason ??= Rejections.List;
                json.Skip();
                continue;
            }

            Record(ref json, pack);
            reason ??= pack.EndRecord();
        }

        json.Read(); // Throws when something follows the list.
        return reason;
    }

    private static void Record(ref Utf8JsonReader json, SenMLPack pack)
    {
        while (json.Read() && json.TokenType == JsonTokenType.PropertyName)
        {
            SenMLLabel label = Label(ref json);
            json.Read();
            switch (json.TokenType)
            {
                case JsonTokenType.Number:
                    pack.Number(label, json.TryGetDouble(out double number) ? number : double.PositiveInfinity);
                    break;
                case JsonTokenType.String:
                    pack.Text(label, label is SenMLLabel.Ignored ? "" : json.GetString()!);
                    break;
                case JsonTokenType.True or JsonTokenType.False:
                    pack.Flag(label, json.TokenType == JsonTokenType.True);
                    break;
                default:
                    pack.Other(label);
                    json.Skip();
                    break;
            }
        }
    }

    private static SenMLLabel Label(ref Utf8JsonReader json)
    {
        if (!json.ValueIsEscaped)
        {
            return SenMLLabels.Of(json.ValueSpan);
        }

        byte[] plain = new byte[json.ValueSpan.Length];
        return SenMLLabels.Of(plain.AsSpan(0, json.CopyString(plain)));
    }
}
