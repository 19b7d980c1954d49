using Incubation.Core.Readings;
using Incubation.Storage.Readings;
using Incubation.Storage.Readings.Spool;

namespace Incubation.Storage.Tests.Readings.Spool;

/// <summary>A spool file in a folder of its own that goes with it.</summary>
internal sealed class TemporarySpool : IDisposable
{
    public const long Bytes = 64 * 1024;

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("incubation-spool-");

    public TemporarySpool(long bytes = Bytes)
    {
        Path = System.IO.Path.Combine(_folder.FullName, "readings.spool");
        File = SpoolFile.Open(Path, bytes);
    }

    public string Path { get; }

    public SpoolFile File { get; private set; }

    public bool Add(params Reading[] readings) => File.Add([new PendingCommit(readings)]);

    /// <summary>Closes it, lets a power cut do something to its bytes, and opens it again.</summary>
    public void Reopen(Action<byte[]>? change = null)
    {
        File.Dispose();
        if (change is not null)
        {
            byte[] bytes = System.IO.File.ReadAllBytes(Path);
            change(bytes);
            System.IO.File.WriteAllBytes(Path, bytes);
        }

        File = SpoolFile.Open(Path, new FileInfo(Path).Length);
    }

    public IReadOnlyList<Reading> TakeAll()
    {
        List<Reading> taken = [];
        File.Take(int.MaxValue, taken);
        return taken;
    }

    public void Dispose()
    {
        File.Dispose();
        _folder.Delete(recursive: true);
    }
}
