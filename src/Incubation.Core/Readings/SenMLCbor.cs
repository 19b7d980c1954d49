using System.Formats.Cbor;
using System.Globalization;
using System.Numerics;
using System.Text;

namespace Incubation.Core.Readings;

/// <summary>SenML in CBOR (RFC 8428, section 6; RFC 8949).</summary>
internal static class SenMLCbor
{
    // 38 digits, where a double has 17. Turning a number of 60,000 bytes into digits would take its time.
    private const int LongestMantissaBits = 128;

    // Major type 4 (a list) has the bytes 0x80 to 0x9F; 0xD9D9F7 is the tag that only says "this is CBOR" (RFC 8949, section 3.4.6).
    private static ReadOnlySpan<byte> SelfDescribed => [0xD9, 0xD9, 0xF7];

    /// <summary>Whether a payload begins as a list in CBOR does. No UTF-8 text can.</summary>
    public static bool Looks(ReadOnlySpan<byte> payload) =>
        payload is [>= 0x80 and <= 0x9F, ..] || (payload.StartsWith(SelfDescribed) && Looks(payload[SelfDescribed.Length..]));

    /// <summary>Reads a list of records; gives the reason when it can't.</summary>
    public static string? Read(ReadOnlySpan<byte> bytes, SenMLPack pack)
    {
        // It refuses what is nested deeper than 64 levels.
        CborReader cbor = new(bytes.ToArray(), CborConformanceMode.Lax);
        // The reader tells of broken CBOR by exceptions only.
        try
        {
            return Records(cbor, pack);
        }
        catch (Exception error) when (error is CborContentException or InvalidOperationException or OverflowException or FormatException)
        {
            return Rejections.BrokenPack;
        }
    }

    private static string? Records(CborReader cbor, SenMLPack pack)
    {
        if (cbor.PeekState() == CborReaderState.Tag)
        {
            cbor.ReadTag();
        }

        string? reason = null;
        cbor.ReadStartArray();
        while (cbor.PeekState() != CborReaderState.EndArray)
        {
            if (cbor.PeekState() != CborReaderState.StartMap)
            {
                reason ??= Rejections.List;
                cbor.SkipValue();
                continue;
            }

            Record(cbor, pack);
            reason ??= pack.EndRecord();
        }

        cbor.ReadEndArray();
        return cbor.BytesRemaining > 0 ? Rejections.BrokenPack : reason;
    }

    private static void Record(CborReader cbor, SenMLPack pack)
    {
        cbor.ReadStartMap();
        while (cbor.PeekState() != CborReaderState.EndMap)
        {
            Value(cbor, Label(cbor), pack);
        }

        cbor.ReadEndMap();
    }

    private static SenMLLabel Label(CborReader cbor)
    {
        switch (cbor.PeekState())
        {
            case CborReaderState.UnsignedInteger:
                return SenMLLabels.Of((long)Math.Min(cbor.ReadUInt64(), long.MaxValue));
            case CborReaderState.NegativeInteger:
                return SenMLLabels.Of(-1 - (long)Math.Min(cbor.ReadCborNegativeIntegerRepresentation(), long.MaxValue));
            case CborReaderState.TextString or CborReaderState.StartIndefiniteLengthTextString:
                return SenMLLabels.Of(Encoding.UTF8.GetBytes(cbor.ReadTextString()));
            default:
                cbor.SkipValue();
                return SenMLLabel.Ignored;
        }
    }

    private static void Value(CborReader cbor, SenMLLabel label, SenMLPack pack)
    {
        switch (cbor.PeekState())
        {
            case CborReaderState.UnsignedInteger:
                pack.Number(label, cbor.ReadUInt64());
                break;
            case CborReaderState.NegativeInteger:
                pack.Number(label, -1.0 - cbor.ReadCborNegativeIntegerRepresentation());
                break;
            case CborReaderState.HalfPrecisionFloat or CborReaderState.SinglePrecisionFloat or CborReaderState.DoublePrecisionFloat:
                pack.Number(label, cbor.ReadDouble());
                break;
            case CborReaderState.Tag when cbor.PeekTag() == CborTag.DecimalFraction:
                pack.Number(label, DecimalFraction(cbor));
                break;
            case CborReaderState.TextString or CborReaderState.StartIndefiniteLengthTextString:
                // Bytes are bytes in CBOR, so text is no data here.
                string text = cbor.ReadTextString();
                if (label == SenMLLabel.DataValue)
                {
                    pack.Other(label);
                }
                else
                {
                    pack.Text(label, text);
                }

                break;
            case CborReaderState.ByteString or CborReaderState.StartIndefiniteLengthByteString:
                cbor.SkipValue();
                if (label == SenMLLabel.DataValue)
                {
                    pack.Text(label, "");
                }
                else
                {
                    pack.Other(label);
                }

                break;
            case CborReaderState.Boolean:
                pack.Flag(label, cbor.ReadBoolean());
                break;
            default:
                cbor.SkipValue();
                pack.Other(label);
                break;
        }
    }

    // Mantissa times ten to the exponent, rounded once: 31.4 is the same number as in JSON.
    private static double DecimalFraction(CborReader cbor)
    {
        cbor.ReadTag();
        cbor.ReadStartArray();
        long exponent = cbor.ReadInt64();
        BigInteger mantissa = cbor.PeekState() switch
        {
            CborReaderState.UnsignedInteger => cbor.ReadUInt64(),
            CborReaderState.NegativeInteger => -1 - (BigInteger)cbor.ReadCborNegativeIntegerRepresentation(),
            _ => cbor.ReadBigInteger(),
        };
        cbor.ReadEndArray();
        if (mantissa.GetBitLength() > LongestMantissaBits)
        {
            throw new OverflowException("The mantissa is longer than any measured number.");
        }

        return double.Parse(string.Create(CultureInfo.InvariantCulture, $"{mantissa}e{exponent}"), CultureInfo.InvariantCulture);
    }
}
