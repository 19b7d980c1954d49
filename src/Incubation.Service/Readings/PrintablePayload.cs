using System.Buffers;
using System.Globalization;
using System.Text;
using Incubation.Core;

namespace Incubation.Service.Readings;

/// <summary>The start of a payload as text that can be shown and stored: what can't be printed stands as <c>\xNN</c>.</summary>
internal static class PrintablePayload
{
    public static string Start(in ReadOnlySequence<byte> payload)
    {
        int length = (int)Math.Min(payload.Length, Limits.RejectedPayloadBytes);
        Span<byte> bytes = stackalloc byte[Limits.RejectedPayloadBytes];
        payload.Slice(0, length).CopyTo(bytes);
        ReadOnlySpan<byte> rest = bytes[..length];
        StringBuilder text = new(length + 1);
        while (!rest.IsEmpty)
        {
            bool whole = Rune.DecodeFromUtf8(rest, out Rune rune, out int used) == OperationStatus.Done;
            if (whole && !Rune.IsControl(rune))
            {
                text.Append(rune.ToString());
            }
            else
            {
                foreach (byte b in rest[..used])
                {
                    text.Append(CultureInfo.InvariantCulture, $"\\x{b:X2}");
                }
            }

            rest = rest[used..];
        }

        return payload.Length > length ? text.Append('…').ToString() : text.ToString();
    }
}
