using System.Globalization;
using Incubation.EndToEnd.Tests.Instruments;

namespace Incubation.EndToEnd.Tests.Durability;

/// <summary>
/// An ext4 file system in a file, mounted over a loop device. Whatever a program has not synced waits in the kernel's memory; what the
/// file holds is what the disk would hold if the power went now.
/// </summary>
internal sealed class DiskImage : IAsyncDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("incubation-disk-").FullName;
    private readonly List<string> _devices = [];
    private readonly List<string> _mounts = [];

    public string Mount { get; private set; } = "";

    /// <summary>Largest number of tries to catch a moment in which nothing reaches the disk.</summary>
    private const int Tries = 200;

    private string Image => Path.Combine(_folder, "disk.img");

    /// <summary>How the state is captured, for the record of the run.</summary>
    public static string Method =>
        "the service is frozen (SIGSTOP), the backing file copied, and the copy kept only if the device's counters show that no write "
        + "reached it meanwhile and none was in flight; the device-mapper is not used";

    public static async Task<DiskImage> MakeAsync(CancellationToken stop, int megabytes = 256)
    {
        DiskImage disk = new();
        try
        {
            await using (FileStream file = new(disk.Image, FileMode.CreateNew))
            {
                file.SetLength(megabytes * 1024L * 1024);
            }

            await Tool.RunAsync("mkfs.ext4", stop, "-q", "-F", disk.Image);
            disk.Mount = await disk.AttachAsync(disk.Image, "live", stop);
            return disk;
        }
        catch
        {
            await disk.DisposeAsync();
            throw;
        }
    }

    /// <summary>Copies the disk as it is at one moment. The caller has frozen whatever writes to it.</summary>
    public async Task<string> CaptureAsync(int number, CancellationToken stop)
    {
        string copy = Path.Combine(_folder, string.Create(CultureInfo.InvariantCulture, $"copy-{number}.img"));
        for (int tries = 0; tries < Tries; tries++)
        {
            string before = Counters();
            await Tool.RunAsync("cp", stop, "--sparse=always", Image, copy);
            if (before == Counters() && Idle(before))
            {
                return copy;
            }
        }

        throw new TimeoutException("The disk did not come to rest, so no copy of it shows one moment.");
    }

    /// <summary>Mounts a captured copy, which replays its journal as a start after a power cut does; returns the folder.</summary>
    public Task<string> RecoverAsync(string copy, CancellationToken stop) => AttachAsync(copy, Path.GetFileNameWithoutExtension(copy), stop);

    /// <summary>Fills the disk to its last block. Again and again: what is given up meanwhile is taken too.</summary>
    public void Fill()
    {
        using FileStream ballast = new(Path.Combine(Mount, "ballast"), FileMode.Append, FileAccess.Write);
        byte[] block = new byte[64 * 1024];
        try
        {
            while (true)
            {
                ballast.Write(block);
                ballast.Flush(flushToDisk: false);
            }
        }
        catch (IOException)
        {
            // Full, as it should be.
        }
    }

    public void Empty() => File.Delete(Path.Combine(Mount, "ballast"));

    /// <summary>
    /// Makes the file system read-only with files open, as the kernel does by itself when a disk fails: by the switch that ext4 has for
    /// tests (Linux kernel, Documentation/ABI/testing/sysfs-fs-ext4, <c>trigger_fs_error</c>) and <c>errors=remount-ro</c>.
    /// </summary>
    public async Task BreakAsync(CancellationToken stop)
        => await File.WriteAllTextAsync($"/sys/fs/ext4/{Path.GetFileName(_devices[0])}/trigger_fs_error", "1", stop);

    /// <summary>Checks and mounts it again; nobody may have a file open on it.</summary>
    public async Task MendAsync(CancellationToken stop)
    {
        await Tool.RunAsync("umount", stop, Mount);
        // Ends with 1 when it has mended something, as it has.
        Tool.Said check = await Tool.TryAsync("e2fsck", ["-f", "-y", _devices[0]], stop);
        if (check.ExitCode > 1)
        {
            throw new IOException($"The disk image could not be mended: {check.Output}");
        }

        await MountAsync(_devices[0], Mount, stop);
    }

    public async Task ReleaseAsync(string mount, CancellationToken stop)
    {
        int at = _mounts.IndexOf(mount);
        await Tool.RunAsync("umount", stop, mount);
        await Tool.RunAsync("losetup", stop, "-d", _devices[at]);
        _mounts.RemoveAt(at);
        _devices.RemoveAt(at);
    }

    public async ValueTask DisposeAsync()
    {
        for (int at = _devices.Count - 1; at >= 0; at--)
        {
            if (at < _mounts.Count)
            {
                await Tool.TryAsync("umount", [_mounts[at]], CancellationToken.None);
            }

            await Tool.TryAsync("losetup", ["-d", _devices[at]], CancellationToken.None);
        }

        Directory.Delete(_folder, recursive: true);
    }

    private async Task<string> AttachAsync(string image, string name, CancellationToken stop)
    {
        string mount = Directory.CreateDirectory(Path.Combine(_folder, "mount-" + name)).FullName;
        _devices.Add((await Tool.RunAsync("losetup", stop, "-f", "--show", image)).Trim());
        await MountAsync(_devices[^1], mount, stop);
        _mounts.Add(mount);
        return mount;
    }

    private static Task<string> MountAsync(string device, string mount, CancellationToken stop)
        => Tool.RunAsync("mount", stop, "-t", "ext4", "-o", "errors=remount-ro", device, mount);

    // Fields of /sys/block/*/stat (kernel documentation, block/stat.rst): 5th writes completed, 9th in flight, 16th flushes completed.
    private string Counters() => File.ReadAllText($"/sys/block/{Path.GetFileName(_devices[0])}/stat").Trim();

    private static bool Idle(string counters) => counters.Split(' ', StringSplitOptions.RemoveEmptyEntries)[8] == "0";
}
