using System.Buffers.Binary;
using System.Security.Cryptography;
using Microsoft.Win32.SafeHandles;

namespace Incubation.Storage.Readings.Spool;

/// <summary>
/// The first 8 KiB of the spool file: two places for the same few words, written in turn, so that one is whole whenever the power goes.
/// The one with the higher turn counts. Its first sequence number is that of the first frame; everything before is caught up.
/// </summary>
/// <param name="Salt">Random, of this file alone.</param>
/// <param name="Turn">How often the file was begun.</param>
/// <param name="First">Sequence number of the first frame.</param>
internal readonly record struct SpoolHeader(ulong Salt, ulong Turn, ulong First)
{
    /// <summary>Where frames begin.</summary>
    public const int Bytes = 2 * PlaceBytes;

    private const int PlaceBytes = 4096, WordBytes = 36;

    private static ReadOnlySpan<byte> Magic => "eggspool"u8;

    public static SpoolHeader New() => new(BitConverter.ToUInt64(RandomNumberGenerator.GetBytes(8)), 1, 1);

    /// <summary>The same file begun anew: frames so far are caught up.</summary>
    public SpoolHeader Next(ulong first) => this with { Turn = Turn + 1, First = first };

    /// <summary>The header in force, or null when neither place holds one.</summary>
    public static SpoolHeader? Read(SafeFileHandle file)
    {
        SpoolHeader? found = null;
        Span<byte> words = stackalloc byte[WordBytes];
        for (int place = 0; place < 2; place++)
        {
            if (RandomAccess.Read(file, words, place * PlaceBytes) == WordBytes && Parse(words) is { } header && !(header.Turn < found?.Turn))
            {
                found = header;
            }
        }

        return found;
    }

    /// <summary>Writes it into its place; the caller syncs.</summary>
    public void Write(SafeFileHandle file)
    {
        Span<byte> words = stackalloc byte[WordBytes];
        Magic.CopyTo(words);
        BinaryPrimitives.WriteUInt64LittleEndian(words[8..], Salt);
        BinaryPrimitives.WriteUInt64LittleEndian(words[16..], Turn);
        BinaryPrimitives.WriteUInt64LittleEndian(words[24..], First);
        BinaryPrimitives.WriteUInt32LittleEndian(words[32..], SpoolFrame.Checksum(words[..32], uint.MaxValue));
        RandomAccess.Write(file, words, (long)(Turn % 2) * PlaceBytes);
    }

    private static SpoolHeader? Parse(ReadOnlySpan<byte> words)
        => words.StartsWith(Magic) && BinaryPrimitives.ReadUInt32LittleEndian(words[32..]) == SpoolFrame.Checksum(words[..32], uint.MaxValue)
            ? new SpoolHeader(
                BinaryPrimitives.ReadUInt64LittleEndian(words[8..]), BinaryPrimitives.ReadUInt64LittleEndian(words[16..]),
                BinaryPrimitives.ReadUInt64LittleEndian(words[24..]))
            : null;
}
