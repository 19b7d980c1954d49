using System.Text;

namespace Incubation.Core.Readings;

/// <summary>The letters of a file.</summary>
public static class ImportText
{
    private static readonly UTF8Encoding Strict = new(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true);
    private static readonly Encoding Windows = CodePagesEncodingProvider.Instance.GetEncoding(1252)!;

    // A text has none of these but tab and line ends; a picture or a packed file has them everywhere.
    private const int MostControlsPerThousand = 20;

    /// <summary>Length of the byte order mark of UTF-8 at the start of a file; 0 without one.</summary>
    public static int MarkLength(ReadOnlySpan<byte> start) => start.StartsWith((ReadOnlySpan<byte>)[0xEF, 0xBB, 0xBF]) ? 3 : 0;

    /// <summary>Why a file that begins like this can't be brought in, with the fix; null when it may be text.</summary>
    public static string? Refusal(ReadOnlySpan<byte> start)
    {
        if (start.IsEmpty)
        {
            return "The file is empty.";
        }

        if (start.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xFE]) || start.StartsWith((ReadOnlySpan<byte>)[0xFE, 0xFF]))
        {
            return "The file is UTF-16. Save it as CSV in UTF-8, and bring that in.";
        }

        if (start.StartsWith("PK\u0003\u0004"u8))
        {
            return "The file is a workbook or packed. Save the sheet as CSV, or unpack it, and bring that in.";
        }

        int controls = 0;
        foreach (byte b in start)
        {
            controls += b < 0x20 && b is not ((byte)'\t' or (byte)'\r' or (byte)'\n') ? 1 : 0;
        }

        return (long)controls * 1000 > (long)start.Length * MostControlsPerThousand ? "The file is no text. A file of comma-separated values is wanted." : null;
    }

    /// <summary>How letters are written, as far as the bytes tell: Windows-1252 only when they can't be UTF-8.</summary>
    public static ImportEncoding EncodingOf(ReadOnlySpan<byte> bytes)
    {
        // The end may be cut in the middle of a letter.
        for (int cut = 0; cut < 4 && cut <= bytes.Length; cut++)
        {
            if (System.Text.Unicode.Utf8.IsValid(bytes[..^cut]))
            {
                return ImportEncoding.Utf8;
            }
        }

        return ImportEncoding.Windows1252;
    }

    /// <summary>The letters of a field, with doubled quotes made single.</summary>
    /// <param name="field">The field, without the quotes around it.</param>
    /// <param name="encoding">How letters are written.</param>
    /// <param name="doubled">Whether quotes in it are doubled.</param>
    /// <param name="text">The letters; what is not UTF-8 stands as U+FFFD.</param>
    /// <returns>Whether all of it was in that encoding.</returns>
    public static bool TryRead(ReadOnlySpan<byte> field, ImportEncoding encoding, bool doubled, out string text)
    {
        bool good = encoding == ImportEncoding.Windows1252 || System.Text.Unicode.Utf8.IsValid(field);
        text = (encoding == ImportEncoding.Windows1252 ? Windows : good ? Strict : Encoding.UTF8).GetString(field);
        text = doubled ? text.Replace("\"\"", "\"", StringComparison.Ordinal) : text;
        return good;
    }

    /// <summary>The start of a line for people to recognise it by, on one line, without what can't be shown.</summary>
    public static string Start(ReadOnlySpan<byte> line, ImportEncoding encoding)
    {
        TryRead(line[..Math.Min(line.Length, Limits.ImportLineShown)].TrimEnd("\r\n"u8), encoding, doubled: false, out string text);
        return string.Create(text.Length, text, static (into, from) =>
        {
            for (int i = 0; i < from.Length; i++)
            {
                into[i] = char.IsControl(from[i]) && from[i] != '\t' ? ' ' : from[i];
            }
        });
    }
}
