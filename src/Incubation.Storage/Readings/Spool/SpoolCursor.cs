using Incubation.Core.Readings;
using Microsoft.Win32.SafeHandles;

namespace Incubation.Storage.Readings.Spool;

/// <summary>Walks over the frames of a spool file from its first; stops at what is no whole frame with the next number.</summary>
internal sealed class SpoolCursor(SafeFileHandle file, SpoolHeader header)
{
    private byte[] _frame = new byte[8 * 1024];

    /// <summary>Where the next frame begins.</summary>
    public long Offset { get; private set; } = SpoolHeader.Bytes;

    /// <summary>Number of the next frame.</summary>
    public ulong Sequence { get; private set; } = header.First;

    /// <summary>Checksum of the last frame read.</summary>
    public uint Sum { get; private set; }

    public SpoolNames Names { get; } = new();

    /// <summary>Reads the next frame; false at the end.</summary>
    /// <exception cref="IOException">The disk can't be read.</exception>
    public bool Read(long end, List<Reading> into)
    {
        long room = end - Offset - SpoolFrame.HeaderBytes;
        if (room <= 0 || Fill(SpoolFrame.HeaderBytes) < SpoolFrame.HeaderBytes)
        {
            return false;
        }

        int body = SpoolFrame.BodyLength(_frame, Sequence, room), length = SpoolFrame.HeaderBytes + body;
        if (body < 0 || Fill(length) < length || !SpoolFrame.IsWhole(_frame.AsSpan(0, length), header.Salt, Sum, out uint sum))
        {
            return false;
        }

        SpoolBody.Read(_frame.AsSpan(SpoolFrame.HeaderBytes, body), Names, into);
        Offset += length;
        Sequence++;
        Sum = sum;
        return true;
    }

    private int Fill(int bytes)
    {
        if (_frame.Length < bytes)
        {
            _frame = new byte[Math.Max(bytes, _frame.Length * 2)];
        }

        int read = 0;
        while (read < bytes && RandomAccess.Read(file, _frame.AsSpan(read, bytes - read), Offset + read) is > 0 and int more)
        {
            read += more;
        }

        return read;
    }
}
