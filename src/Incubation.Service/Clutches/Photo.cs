using System.Buffers.Binary;

namespace Incubation.Service.Clutches;

/// <summary>Tells what a file is by how it begins, and leaves out of it what would say where and by whom it was taken.</summary>
internal static class Photo
{
    // W3C "Portable Network Graphics (PNG) Specification (Third Edition)", section 5.2.
    private static ReadOnlySpan<byte> PngSignature => [0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A];

    // ITU-T T.81, annex B: start of image, and the marker that follows it.
    private static ReadOnlySpan<byte> JpegStart => [0xFF, 0xD8, 0xFF];

    private const byte StartOfScan = 0xDA, EndOfImage = 0xD9;

    private static ReadOnlySpan<byte> Exif => "Exif\0\0"u8;

    public static string MediaType(PhotoKind kind) => kind == PhotoKind.Jpeg ? "image/jpeg" : "image/png";

    /// <summary>The kind, or null when it is neither.</summary>
    public static PhotoKind? KindOf(ReadOnlySpan<byte> file)
        => file.StartsWith(JpegStart) ? PhotoKind.Jpeg : file.StartsWith(PngSignature) ? PhotoKind.Png : null;

    /// <summary>
    /// The picture without the camera's notes (place, time, owner, texts); which way is up stays. Null when the file is cut off or
    /// damaged before its picture begins.
    /// </summary>
    public static byte[]? WithoutNotes(ReadOnlySpan<byte> file, PhotoKind kind) => kind == PhotoKind.Jpeg ? Jpeg(file) : Png(file);

    private static byte[]? Jpeg(ReadOnlySpan<byte> file)
    {
        using var kept = new MemoryStream(file.Length);
        kept.Write(file[..2]);
        int at = 2;
        while (at + 2 <= file.Length && file[at] == 0xFF)
        {
            byte marker = file[at + 1];
            if (marker == 0xFF)
            {
                // A fill byte.
                at++;
                continue;
            }

            if (marker == EndOfImage)
            {
                // What cameras hang on behind (second pictures, films) has notes of its own and is left out.
                kept.Write(file.Slice(at, 2));
                return kept.ToArray();
            }

            int length = at + 4 <= file.Length ? BinaryPrimitives.ReadUInt16BigEndian(file[(at + 2)..]) : 0;
            if (length < 2 || at + 2 + length > file.Length)
            {
                return null;
            }

            ReadOnlySpan<byte> segment = file.Slice(at, 2 + length);
            if (marker == 0xE1 && segment[4..].StartsWith(Exif))
            {
                WriteOrientation(kept, segment[10..]);
            }
            else if (!IsNote(marker, segment[4..]))
            {
                kept.Write(segment);
            }

            at += 2 + length;
            if (marker == StartOfScan)
            {
                int end = EndOfScan(file, at);
                kept.Write(file[at..end]);
                at = end;
            }
        }

        return null;
    }

    // Inside a scan 0xFF stands before 0 (a byte of the picture) or a restart marker; before anything else the scan is over.
    private static int EndOfScan(ReadOnlySpan<byte> file, int at)
    {
        while (at + 1 < file.Length && !(file[at] == 0xFF && file[at + 1] is not (0 or (>= 0xD0 and <= 0xD7) or 0xFF)))
        {
            at++;
        }

        return at;
    }

    // Application segments but JFIF, the colour profile (ICC.1, annex B.4) and Adobe's colour transform; comments.
    private static bool IsNote(byte marker, ReadOnlySpan<byte> content)
        => marker == 0xFE || (marker is >= 0xE1 and <= 0xEF and not 0xEE && !(marker == 0xE2 && content.StartsWith("ICC_PROFILE\0"u8)));

    // CIPA DC-008 (Exif 2.32): a TIFF block; tag 0x0112 in its first directory says which way is up. Nothing else is kept of it.
    private static void WriteOrientation(MemoryStream kept, ReadOnlySpan<byte> tiff)
    {
        if (Orientation(tiff) is not ({ } value and >= 2 and <= 8))
        {
            return;
        }

        kept.Write([0xFF, 0xE1, 0, 34]);
        kept.Write(Exif);
        kept.Write([.. "MM\0*"u8, 0, 0, 0, 8, 0, 1, 0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, (byte)value, 0, 0, 0, 0, 0, 0]);
    }

    private static int? Orientation(ReadOnlySpan<byte> tiff)
    {
        if (tiff.Length < 8)
        {
            return null;
        }

        bool big = tiff[0] == 'M';
        ushort Two(ReadOnlySpan<byte> from) => big ? BinaryPrimitives.ReadUInt16BigEndian(from) : BinaryPrimitives.ReadUInt16LittleEndian(from);
        uint start = big ? BinaryPrimitives.ReadUInt32BigEndian(tiff[4..]) : BinaryPrimitives.ReadUInt32LittleEndian(tiff[4..]);
        if (start > tiff.Length - 2)
        {
            return null;
        }

        ReadOnlySpan<byte> entries = tiff[(int)(start + 2)..];
        for (int n = Two(tiff[(int)start..]); n > 0 && entries.Length >= 12; n--, entries = entries[12..])
        {
            if (Two(entries) == 0x0112)
            {
                return Two(entries[8..]);
            }
        }

        return null;
    }

    private static byte[]? Png(ReadOnlySpan<byte> file)
    {
        using var kept = new MemoryStream(file.Length);
        kept.Write(file[..8]);
        int at = 8;
        while (at + 12 <= file.Length)
        {
            uint length = BinaryPrimitives.ReadUInt32BigEndian(file[at..]);
            if (length > file.Length - at - 12)
            {
                return null;
            }

            ReadOnlySpan<byte> chunk = file.Slice(at, (int)length + 12), type = chunk.Slice(4, 4);
            if (!(type.SequenceEqual("eXIf"u8) || type.SequenceEqual("tEXt"u8) || type.SequenceEqual("zTXt"u8)
                || type.SequenceEqual("iTXt"u8) || type.SequenceEqual("tIME"u8)))
            {
                kept.Write(chunk);
            }

            if (type.SequenceEqual("IEND"u8))
            {
                return kept.ToArray();
            }

            at += chunk.Length;
        }

        return null;
    }
}
