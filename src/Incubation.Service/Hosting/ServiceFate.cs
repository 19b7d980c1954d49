namespace Incubation.Service.Hosting;

/// <summary>Exit codes of the program.</summary>
internal static class ExitCodes
{
    public const int Ok = 0;

    /// <summary>It could not start, or a check failed; the words are on standard error.</summary>
    public const int Failed = 1;

    /// <summary>The command line was wrong.</summary>
    public const int WrongUsage = 2;

    /// <summary>A worker kept failing (EX_SOFTWARE of BSD's sysexits).</summary>
    public const int WorkerGaveUp = 70;
}

/// <summary>How the process is to end. A worker that gives up sets it; the serve command returns it.</summary>
internal sealed class ServiceFate(IHostApplicationLifetime lifetime)
{
    private int _exitCode;

    public int ExitCode => Volatile.Read(ref _exitCode);

    /// <summary>Ends the service with <paramref name="exitCode"/>; the first caller's code counts.</summary>
    public void Fail(int exitCode)
    {
        Interlocked.CompareExchange(ref _exitCode, exitCode, 0);
        lifetime.StopApplication();
    }
}
