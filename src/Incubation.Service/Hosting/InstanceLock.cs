namespace Incubation.Service.Hosting;

/// <summary>
/// Holds the data directory for one process: two that write the same files, or call people twice, are the worst kind of spare.
/// The operating system lets go of the lock when the process dies, however it dies.
/// </summary>
internal sealed class InstanceLock(DataPaths paths) : IStartupStep, IDisposable
{
    private FileStream? _file;

    public StartupStage Stage => StartupStage.House;

    public Task RunAsync(CancellationToken cancellationToken)
    {
        Take();
        return Task.CompletedTask;
    }

    /// <summary>Makes the directory if need be and takes the lock.</summary>
    /// <exception cref="StartException">Not writable, or another process holds it.</exception>
    public void Take()
    {
        if (_file is not null)
        {
            return;
        }

        try
        {
            Directory.CreateDirectory(paths.Root);
            // FileShare.None is an advisory lock (flock) on Unix and a share mode on Windows; both end with the process.
            _file = new FileStream(paths.Lock, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
        }
        catch (UnauthorizedAccessException error)
        {
            throw new StartException(NotWritable(error.Message), error);
        }
        catch (IOException error) when (File.Exists(paths.Lock) && IsHeld(error))
        {
            throw new StartException(
                $"Incubation:DataDirectory is \"{paths.Root}\", and another running service holds it ({paths.Lock}). " +
                "Stop that one, or give this one a directory of its own.", error);
        }
        catch (IOException error)
        {
            throw new StartException(NotWritable(error.Message), error);
        }
    }

    public void Dispose() => _file?.Dispose();

    // EWOULDBLOCK on Linux (11) and macOS (35), ERROR_SHARING_VIOLATION on Windows; the runtime puts them into HResult.
    private static bool IsHeld(IOException error) => error.HResult is 11 or 35 or unchecked((int)0x80070020);

    private string NotWritable(string why)
        => $"Incubation:DataDirectory is \"{paths.Root}\", which can't be written ({why.TrimEnd('.')}). " +
           "Allowed: a directory that this user may write, on a local disk with space left.";
}
