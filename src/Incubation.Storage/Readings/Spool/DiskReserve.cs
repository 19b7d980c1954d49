using Incubation.Core;

namespace Incubation.Storage.Readings.Spool;

/// <summary>
/// Room on the disk that is held by a file, so that it can be given up when the disk is nearly full: then alarms, calls and journals still
/// find a place. Given up when less than half its size is left, made anew when three times its size is free. When less than a quarter is
/// left and it is given up already, readings are to go into the spool file and leave the rest to the records. Safe from any thread.
/// </summary>
public sealed class DiskReserve(string path, long bytes, Func<long>? free = null)
{
    private readonly Func<long> _free = free ?? (() => new DriveInfo(Path.GetDirectoryName(Path.GetFullPath(path))!).AvailableFreeSpace);
    private readonly Lock _gate = new();
    private volatile bool _held;
    private volatile bool _mustSpare;

    /// <summary>A reserve of the usual size beside the readings.</summary>
    public DiskReserve(string path) : this(path, Limits.ReserveMegabytes * 1024L * 1024) { }

    /// <summary>Whether the room is held now. False means that the disk is nearly full.</summary>
    public bool Held => _held;

    /// <summary>Whether what is left of the disk is for the records alone.</summary>
    public bool MustSpare => _mustSpare;

    /// <summary>Looks how much room there is, and gives the reserve up or takes it.</summary>
    public void Look()
    {
        lock (_gate)
        {
            long left;
            try
            {
                left = _free();
                _held = File.Exists(path) && new FileInfo(path).Length == bytes;
                if (_held && left < bytes / 2)
                {
                    _held = !GiveUp();
                    left = _free();
                }
                else if (!_held && left >= 3 * bytes)
                {
                    SpareDisk.Make(path, bytes);
                    _held = true;
                }
            }
            catch (Exception error) when (error is IOException or UnauthorizedAccessException or ArgumentException)
            {
                // A disk that can't be asked or written: what the database says of it counts.
                return;
            }

            _mustSpare = !_held && left < bytes / 4;
        }
    }

    /// <summary>The disk has just refused a write for want of room. True when room was given up: then trying again makes sense.</summary>
    public bool GiveUpNow()
    {
        lock (_gate)
        {
            bool given = File.Exists(path) && GiveUp();
            _held &= !given;
            return given;
        }
    }

    private bool GiveUp()
    {
        try
        {
            File.Delete(path);
            return true;
        }
        catch (Exception error) when (error is IOException or UnauthorizedAccessException)
        {
            return false;
        }
    }
}
