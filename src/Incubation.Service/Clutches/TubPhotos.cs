using Incubation.Service.Hosting;
using Microsoft.Win32.SafeHandles;
using NodaTime;

namespace Incubation.Service.Clutches;

/// <summary>The photo of each clutch's tub from above: a file in the data directory, of one of two kinds, whole or not at all.</summary>
internal sealed class TubPhotos(DataPaths paths)
{
    private readonly string _folder = Path.Combine(paths.Root, "photos");

    /// <summary>The kinds that are taken, by their media type.</summary>
    private static readonly (PhotoKind Kind, string Ending)[] Endings = [(PhotoKind.Jpeg, ".jpg"), (PhotoKind.Png, ".png")];

    /// <summary>When the photo was put there, or null when there is none.</summary>
    public Instant? TakenAt(Guid clutch)
        => Find(clutch) is { } found ? Instant.FromDateTimeUtc(File.GetLastWriteTimeUtc(found.Path)) : null;

    /// <summary>The file and its kind, or null.</summary>
    public (string Path, PhotoKind Kind)? Find(Guid clutch)
    {
        foreach ((PhotoKind kind, string ending) in Endings)
        {
            string path = PathOf(clutch, ending);
            if (File.Exists(path))
            {
                return (path, kind);
            }
        }

        return null;
    }

    /// <summary>Puts a photo there in place of the one before.</summary>
    /// <exception cref="IOException">The disk would not take it; the one before is still there.</exception>
    public async Task PutAsync(Guid clutch, PhotoKind kind, ReadOnlyMemory<byte> photo, CancellationToken cancellationToken)
    {
        Directory.CreateDirectory(_folder);
        string draft = Path.Combine(_folder, $"{Guid.NewGuid():N}.new");
        try
        {
            using (SafeFileHandle file = File.OpenHandle(draft, FileMode.CreateNew, FileAccess.Write, FileShare.None))
            {
                await RandomAccess.WriteAsync(file, photo, 0, cancellationToken);
                RandomAccess.FlushToDisk(file);
            }

            File.Move(draft, PathOf(clutch, Endings.Single(e => e.Kind == kind).Ending), overwrite: true);
        }
        finally
        {
            File.Delete(draft);
        }

        foreach ((_, string ending) in Endings.Where(e => e.Kind != kind))
        {
            File.Delete(PathOf(clutch, ending));
        }
    }

    /// <summary>Takes the photo away; false when there was none.</summary>
    public bool Remove(Guid clutch)
    {
        if (Find(clutch) is not { } found)
        {
            return false;
        }

        File.Delete(found.Path);
        return true;
    }

    private string PathOf(Guid clutch, string ending) => Path.Combine(_folder, $"{clutch:N}{ending}");
}
