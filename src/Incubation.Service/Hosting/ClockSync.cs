using System.Runtime.InteropServices;

namespace Incubation.Service.Hosting;

/// <summary>Whether a time server keeps the clock of this machine right.</summary>
internal interface IClockSync
{
    /// <summary>True when the system says so, false when it says that none does, null when it can't be asked.</summary>
    bool? Synced();
}

/// <summary>
/// Asks Linux, as well as it can: the file that systemd's time client leaves after its first success since boot, and the kernel's own word
/// (adjtimex(2): state TIME_ERROR until a time server disciplines the clock, and again after somebody sets it by hand). Speaks for the system's clock only.
/// </summary>
internal sealed class SystemClockSync(TimeProvider time) : IClockSync
{
    private const string TimesyncMark = "/run/systemd/timesync/synchronized";
    private const int TimeError = 5;

    // struct timex has 208 bytes on 64-bit machines, less on others. All zero asks and changes nothing.
    private const int TimexBytes = 512;

    private bool _asked = OperatingSystem.IsLinux() && ReferenceEquals(time, TimeProvider.System);

    public bool? Synced()
    {
        if (!_asked)
        {
            return null;
        }

        try
        {
            int state = AskKernel(new byte[TimexBytes]);
            return state is >= 0 and < TimeError || (File.Exists(TimesyncMark) && state != TimeError) ? true : state == TimeError ? false : null;
        }
        catch (Exception error) when (error is DllNotFoundException or EntryPointNotFoundException)
        {
            _asked = false;
            return null;
        }
    }

    [DllImport("libc", EntryPoint = "adjtimex")]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int AskKernel([In, Out] byte[] timex);
}
