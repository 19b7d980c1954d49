using System.Globalization;
using NodaTime;

namespace Incubation.Service.Hosting;

/// <summary>
/// The largest wall time seen, in two small files in the data directory, each with the number twice, so that damage is noticed. Written to a
/// new file that is synced and renamed: a power cut leaves the old time or the new one. When both are damaged, the files beside them tell when they were written last.
/// Without any file nothing is known: deleting both is how a person says "what the clock shows now is right".
/// </summary>
internal sealed class ClockFile(DataPaths paths)
{
    private string Copy => paths.Clock + ".copy";

    /// <summary>The largest time on record, or null when there is none.</summary>
    public Instant? Read()
    {
        string[] there = [.. new[] { paths.Clock, Copy }.Where(File.Exists)];
        Instant[] told = [.. there.Select(ReadOne).OfType<Instant>()];
        return told.Length > 0 ? told.Max() : there.Length > 0 ? Neighbours() : null;
    }

    /// <exception cref="IOException">The disk is full or failing.</exception>
    /// <exception cref="UnauthorizedAccessException">The directory may not be written.</exception>
    public void Write(Instant wall)
    {
        string number = wall.ToUnixTimeMilliseconds().ToString(CultureInfo.InvariantCulture);
        byte[] content = System.Text.Encoding.ASCII.GetBytes($"{number} {number}\n");
        foreach (string file in (string[])[paths.Clock, Copy])
        {
            string fresh = file + ".new";
            using (FileStream stream = new(fresh, FileMode.Create, FileAccess.Write, FileShare.None))
            {
                stream.Write(content);
                stream.Flush(flushToDisk: true);
            }

            File.Move(fresh, file, overwrite: true);
        }
    }

    private static Instant? ReadOne(string file)
    {
        string text;
        try
        {
            using StreamReader reader = new(file);
            char[] start = new char[64];
            text = new string(start, 0, reader.ReadBlock(start)).TrimEnd('\n');
        }
        catch (Exception error) when (error is IOException or UnauthorizedAccessException)
        {
            return null;
        }

        // One number alone is how earlier versions wrote it.
        string[] numbers = text.Split(' ');
        return numbers.Length <= 2 && numbers.All(number => number == numbers[0])
            && long.TryParse(numbers[0], NumberStyles.None, CultureInfo.InvariantCulture, out long milliseconds)
            && milliseconds <= Instant.MaxValue.ToUnixTimeMilliseconds()
            ? Instant.FromUnixTimeMilliseconds(milliseconds)
            : null;
    }

    private Instant? Neighbours()
    {
        DateTime[] written = [.. new DirectoryInfo(paths.Root).EnumerateFiles().Where(file => !file.Name.StartsWith("clock", StringComparison.Ordinal)).Select(file => file.LastWriteTimeUtc)];
        return written.Length == 0 ? null : Instant.FromDateTimeUtc(written.Max());
    }
}
