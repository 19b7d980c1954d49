using Incubation.Core.Readings;
using NodaTime;

namespace Incubation.Service.Probes;

/// <summary>
/// What the newest reading of a series is worth now. Missing data never looks well: only <see cref="Good"/> is good and fresh.
/// </summary>
internal static class ReadingQuality
{
    public const string Good = "good";
    public const string Faulty = "faulty";
    public const string Silent = "silent";
    public const string Unknown = "unknown";

    /// <param name="latest">The newest reading, good or not, or null.</param>
    /// <param name="goodHeardAt">Steady time of the last good reading; before the first one, when the probe was first heard.</param>
    /// <param name="silentAfter">Time without a good reading after which a probe is silent.</param>
    /// <param name="now">Steady time.</param>
    public static string Of(Reading? latest, Instant? goodHeardAt, Duration silentAfter, Instant now)
    {
        if (latest is not { } reading)
        {
            return Unknown;
        }

        // A probe that sends only bad values is silent too: it tells nothing.
        if (goodHeardAt is not { } heard || now - heard > silentAfter)
        {
            return Silent;
        }

        return (reading.Marks & ReadingMarks.Faulty) != 0 ? Faulty
            : (reading.Marks & ReadingMarks.Retained) != 0 ? Unknown
            : Good;
    }

    /// <summary>The marks in words.</summary>
    public static IReadOnlyList<string> Words(ReadingMarks marks)
    {
        if (marks == ReadingMarks.None)
        {
            return [];
        }

        List<string> words = [];
        Add(ReadingMarks.Faulty, "faulty");
        Add(ReadingMarks.Saturated, "saturated");
        Add(ReadingMarks.ClockOff, "clock off");
        Add(ReadingMarks.ArrivalTime, "time of arrival");
        Add(ReadingMarks.Retained, "of unknown age");
        Add(ReadingMarks.OwnClock, "own clock not trusted");
        Add(ReadingMarks.Imported, "brought in from a file");
        return words;

        void Add(ReadingMarks mark, string word)
        {
            if ((marks & mark) != 0)
            {
                words.Add(word);
            }
        }
    }
}
