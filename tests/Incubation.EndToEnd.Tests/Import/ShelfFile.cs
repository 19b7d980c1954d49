using System.Globalization;
using System.Text;
using Incubation.Core.Readings;
using NodaTime;

namespace Incubation.EndToEnd.Tests.Import;

/// <summary>A file as a logger with several probes writes it, line by line by rule, so that what was brought in can be told from the rule alone.</summary>
internal sealed class ShelfFile(string path, int lines)
{
    public const int Probes = 10;
    private const int BadEvery = 997, SecondsApart = 10;

    private readonly long _first = new DateTimeOffset(TimeProvider.System.GetUtcNow().UtcDateTime.Date, TimeSpan.Zero).ToUnixTimeSeconds()
        - (((lines / Probes / 8_640) + 3) * 86_400L);

    public string Path => path;

    /// <summary>Lines with readings and lines that can't be read, without the header.</summary>
    public int Lines => lines;

    public int Bad => (lines + BadEvery - 1) / BadEvery;

    public int Good => lines - Bad;

    public async Task WriteAsync(CancellationToken stop)
    {
        await using StreamWriter file = new(path, append: false, new UTF8Encoding(encoderShouldEmitUTF8Identifier: false), 1 << 20);
        StringBuilder text = new("time;probe;quantity;value;unit\r\n");
        for (int i = 0; i < lines; i++)
        {
            text.Append(CultureInfo.InvariantCulture, $"{_first + (i / Probes * (long)SecondsApart)};Shelf {i % Probes};temperature;{(i % BadEvery == 0 ? "\"open" : Figure(i))};°C\r\n");
            if (text.Length > 1 << 16)
            {
                await file.WriteAsync(text, stop);
                text.Clear();
            }
        }

        await file.WriteAsync(text, stop);
    }

    /// <summary>What of the file differs from what is stored, as words; empty when nothing does.</summary>
    public string Differences(IReadingStore store)
    {
        for (int probe = 0; probe < Probes; probe++)
        {
            IReadOnlyList<Reading> stored = store.Read(
                new SeriesKey(Key(probe), Quantity.Temperature), Instant.FromUnixTimeSeconds(0), Instant.FromUtc(2100, 1, 1, 0, 0));
            int next = 0;
            for (int i = probe; i < lines; i += Probes)
            {
                if (i % BadEvery == 0)
                {
                    continue;
                }

                Instant at = Instant.FromUnixTimeSeconds(_first + (i / Probes * (long)SecondsApart));
                double value = double.Parse(Figure(i).Replace(',', '.'), CultureInfo.InvariantCulture);
                if (next >= stored.Count || stored[next].At != at || stored[next].Value != value)
                {
                    return $"line {i + 2} of {Key(probe)} is {(next < stored.Count ? stored[next].ToString() : "missing")}";
                }

                next++;
            }

            if (next != stored.Count)
            {
                return $"{stored.Count - next} readings of {Key(probe)} are in no line of the file";
            }
        }

        return "";
    }

    public static string Key(int probe) => string.Create(CultureInfo.InvariantCulture, $"shelf-{probe}");

    private static string Figure(int i) => string.Create(CultureInfo.InvariantCulture, $"{30 + (i % 13)},{i * 7 % 100:00}");
}
