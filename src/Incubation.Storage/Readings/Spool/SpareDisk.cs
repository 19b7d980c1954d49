using System.ComponentModel;
using System.Runtime.InteropServices;
using System.Text;
using Microsoft.Win32.SafeHandles;

namespace Incubation.Storage.Readings.Spool;

/// <summary>
/// What the framework does not offer of files: room that is really taken, a sync of the data alone, and a sync of a folder.
/// On Linux by the calls of POSIX.1-2017 (<c>posix_fallocate</c>, <c>fdatasync</c>, <c>fsync</c> of a folder); elsewhere by written zeros
/// and the framework's own flush.
/// </summary>
internal static class SpareDisk
{
    private const int NotSupported = 95, ForReading = 0;
    private static readonly byte[] Zeros = new byte[1 << 20];

    /// <summary>Makes a file whose every byte has its place on the disk, so that writing in it needs no more room. Synced.</summary>
    /// <exception cref="IOException">There is not enough room, or the disk can't be written. No file is left.</exception>
    public static void Make(string path, long bytes, Action<SafeFileHandle>? fill = null)
    {
        string fresh = path + ".new";
        try
        {
            File.Delete(fresh);
            using (SafeFileHandle file = File.OpenHandle(fresh, FileMode.CreateNew, FileAccess.ReadWrite, FileShare.Read))
            {
                Allocate(file, bytes);
                fill?.Invoke(file);
                RandomAccess.FlushToDisk(file);
            }

            // Under its name it is always whole.
            File.Move(fresh, path, overwrite: true);
            SyncFolderOf(path);
        }
        catch (Exception error) when (error is IOException or UnauthorizedAccessException)
        {
            Forget(fresh);
            throw error as IOException ?? new IOException(error.Message, error);
        }
    }

    /// <summary>Waits until what was written is on the disk.</summary>
    /// <exception cref="IOException">It may not be.</exception>
    public static void Sync(SafeFileHandle file)
    {
        if (!OperatingSystem.IsLinux())
        {
            RandomAccess.FlushToDisk(file);
        }
        else if (SyncData(file) != 0)
        {
            throw Failed(Marshal.GetLastPInvokeError());
        }
    }

    private static void Allocate(SafeFileHandle file, long bytes)
    {
        int error = OperatingSystem.IsLinux() ? Reserve(file, 0, bytes) : NotSupported;
        if (error == 0)
        {
            return;
        }

        if (error != NotSupported)
        {
            throw Failed(error);
        }

        // Where nothing can be reserved, zeros take the same room.
        for (long at = 0; at < bytes; at += Zeros.Length)
        {
            RandomAccess.Write(file, Zeros.AsSpan(0, (int)Math.Min(Zeros.Length, bytes - at)), at);
        }
    }

    // Without it a power cut may bring back the folder as it was before the file had its name.
    private static void SyncFolderOf(string path)
    {
        if (!OperatingSystem.IsLinux())
        {
            return;
        }

        int folder = Open(Encoding.UTF8.GetBytes(Path.GetDirectoryName(Path.GetFullPath(path)) + "\0"), ForReading);
        if (folder < 0)
        {
            throw Failed(Marshal.GetLastPInvokeError());
        }

        int result = SyncAll(folder), error = Marshal.GetLastPInvokeError();
        _ = Close(folder);
        if (result != 0)
        {
            throw Failed(error);
        }
    }

    private static void Forget(string path)
    {
        try
        {
            File.Delete(path);
        }
        catch (Exception error) when (error is IOException or UnauthorizedAccessException)
        {
            // On a disk that can't be written; the next start makes it anew.
        }
    }

    private static IOException Failed(int error) => new(new Win32Exception(error).Message);

    [DllImport("libc", EntryPoint = "posix_fallocate"), DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int Reserve(SafeFileHandle file, long offset, long length);

    [DllImport("libc", EntryPoint = "fdatasync", SetLastError = true), DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int SyncData(SafeFileHandle file);

    [DllImport("libc", EntryPoint = "open", SetLastError = true), DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int Open(byte[] path, int flags);

    [DllImport("libc", EntryPoint = "fsync", SetLastError = true), DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int SyncAll(int file);

    [DllImport("libc", EntryPoint = "close"), DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int Close(int file);
}
