using Incubation.Core;
using Incubation.Core.Readings;
using Microsoft.Win32.SafeHandles;

namespace Incubation.Storage.Readings.Spool;

/// <summary>
/// Readings in a file whose room was taken beforehand, for when the database takes none. Frames are appended in place and synced; caught up
/// from the front; and when the last one is caught up the file begins anew. Like SQLite's own log it trusts that writing some bytes of a
/// sector harms no others of it when the power goes. One thread only.
/// </summary>
internal sealed class SpoolFile : IDisposable
{
    private readonly SafeFileHandle _file;
    private readonly SpoolBody _body = new();
    private SpoolHeader _header;
    private SpoolNames _names;
    private SpoolCursor _front;
    private long _end;
    private ulong _next;
    private uint _sum;
    private bool _mustClear;

    private SpoolFile(SafeFileHandle file, SpoolHeader header, long bytes)
    {
        (_file, _header, Bytes) = (file, header, bytes);
        SpoolCursor all = new(file, header);
        List<Reading> seen = [];
        while (all.Read(bytes, seen))
        {
            seen.Clear();
        }

        (_names, _end, _next, _sum) = (all.Names, all.Offset, all.Sequence, all.Sum);
        _front = new SpoolCursor(file, header);
    }

    /// <summary>How many bytes it holds.</summary>
    public long Bytes { get; }

    /// <summary>What waits, bytes.</summary>
    public long Used => _end - _front.Offset;

    public bool IsEmpty => Used == 0;

    /// <summary>Tells this file from any other in the database's note of how far it is caught up.</summary>
    public long Name => unchecked((long)_header.Salt);

    /// <summary>Number of the last frame that <see cref="Take"/> gave, or that was skipped.</summary>
    public long Taken => unchecked((long)(_front.Sequence - 1));

    /// <summary>Opens the file, or makes it with all its room. One of another size is used up first and replaced when it is empty.</summary>
    /// <exception cref="IOException">There is no room, or the disk can't be written.</exception>
    public static SpoolFile Open(string path, long bytes)
    {
        SpoolFile? there = File.Exists(path) ? Try(path) : null;
        if (there is not null && (there.Bytes == bytes || there._end > SpoolHeader.Bytes))
        {
            return there;
        }

        there?.Dispose();
        SpareDisk.Make(path, bytes, file => SpoolHeader.New().Write(file));
        return Try(path) ?? throw new IOException("The spool file can't be read back after it was made.");
    }

    /// <summary>Passes over the frames that the database says it has.</summary>
    public void Skip(long caughtUp)
    {
        List<Reading> seen = [];
        while (Taken < caughtUp && _front.Read(_end, seen))
        {
            seen.Clear();
        }
    }

    /// <summary>Keeps readings; on return they are on the disk, all of them.</summary>
    /// <returns>False when they don't fit.</returns>
    /// <exception cref="IOException">The disk can't be written; none of them counts as kept.</exception>
    public bool Add(IReadOnlyList<PendingCommit> batch)
    {
        if (_mustClear)
        {
            Clear();
        }

        int names = _names.Count;
        (long end, ulong next, uint sum) = (_end, _next, _sum);
        try
        {
            foreach (PendingCommit pending in batch)
            {
                for (ReadOnlyMemory<Reading> left = pending.Readings; !left.IsEmpty; left = left[Math.Min(left.Length, Limits.CommitBatch)..])
                {
                    _body.Begin();
                    _body.Add(left.Span[..Math.Min(left.Length, Limits.CommitBatch)], _names);
                    if (end + _body.Frame.Length > Bytes)
                    {
                        _names.CutTo(names);
                        return false;
                    }

                    sum = SpoolFrame.Seal(_body.Frame, _header.Salt, sum, next++);
                    RandomAccess.Write(_file, _body.Frame, end);
                    end += _body.Frame.Length;
                }
            }

            SpareDisk.Sync(_file);
            (_end, _next, _sum) = (end, next, sum);
            return true;
        }
        catch
        {
            _names.CutTo(names);
            throw;
        }
    }

    /// <summary>The oldest readings that wait, whole frames of them, at least <paramref name="atLeast"/> if there are so many.</summary>
    /// <exception cref="IOException">The disk can't be read.</exception>
    public void Take(int atLeast, List<Reading> into)
    {
        while (into.Count < atLeast && !IsEmpty)
        {
            if (!_front.Read(_end, into))
            {
                throw new IOException("The spool file no longer holds what was written into it.");
            }
        }
    }

    /// <summary>Goes back to a frame that was taken but could not be stored.</summary>
    public void TakeBack(long taken)
    {
        _front = new SpoolCursor(_file, _header);
        Skip(taken);
    }

    /// <summary>Begins anew; everything in it is stored elsewhere.</summary>
    /// <exception cref="IOException">The disk can't be written. Nothing is added before this has succeeded, for which header holds is not known.</exception>
    public void Clear()
    {
        _mustClear = true;
        SpoolHeader header = _header.Next(_next);
        header.Write(_file);
        SpareDisk.Sync(_file);
        (_mustClear, _header, _sum) = (false, header, 0);
        _names = new SpoolNames();
        _front = new SpoolCursor(_file, header);
        _end = SpoolHeader.Bytes;
    }

    public void Dispose() => _file.Dispose();

    private static SpoolFile? Try(string path)
    {
        SafeFileHandle? file = null;
        try
        {
            file = File.OpenHandle(path, FileMode.Open, FileAccess.ReadWrite, FileShare.Read);
            if (SpoolHeader.Read(file) is { } header)
            {
                return new SpoolFile(file, header, RandomAccess.GetLength(file));
            }
        }
        catch (UnauthorizedAccessException error)
        {
            file?.Dispose();
            throw new IOException(error.Message, error);
        }
        catch
        {
            file?.Dispose();
            throw;
        }

        // Not ours, or both of its headers are gone: kept beside, for somebody who knows better.
        file.Dispose();
        File.Move(path, path + ".unreadable", overwrite: true);
        return null;
    }
}
