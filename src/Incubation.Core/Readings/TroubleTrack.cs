using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>
/// What is remembered of one series to judge its probe: cells of ten minutes for two days, hours for eight days, stillness, jumps and
/// scatter. About 12 kB, made once; a reading allocates nothing. Not safe for several threads at once: lock it.
/// </summary>
/// <param name="series">Whose and of what.</param>
public sealed class TroubleTrack(SeriesKey series)
{
    /// <summary>Width of a cell.</summary>
    public static Duration CellWidth { get; } = Duration.FromMinutes(10);

    /// <summary>Cells kept: two days.</summary>
    public const int Cells = 288;

    /// <summary>Hours kept: eight days.</summary>
    public const int Hours = 192;

    private readonly TroubleSums _cells = new(Cells, 600_000);
    private readonly TroubleSums _hours = new(Hours, 3_600_000);

    /// <summary>Whose and of what.</summary>
    public SeriesKey Series => series;

    /// <summary>How long it has been saying the same, and how long it ever did.</summary>
    public TroubleStillness Stillness { get; } = new();

    /// <summary>Jumps of the last day.</summary>
    public TroubleJumps Jumps { get; } = new(series.Quantity);

    /// <summary>How much its values scatter, by hours.</summary>
    public TroubleScatter Scatter { get; } = new(Hours);

    /// <summary>Time of the newest reading, or null.</summary>
    public Instant? Newest { get; private set; }

    /// <summary>Time of the first reading, or null.</summary>
    public Instant? First { get; private set; }

    /// <summary>The newest value.</summary>
    public double Value { get; private set; }

    /// <summary>Takes a reading. One that is not good, or not newer than the newest, changes nothing.</summary>
    public void Add(in Reading reading)
    {
        if (!reading.IsGood || reading.At <= Newest)
        {
            return;
        }

        long ms = reading.At.ToUnixTimeMilliseconds();
        _cells.Add(ms, reading.Value);
        _hours.Add(ms, reading.Value);
        Stillness.Add(reading.At, reading.Value);
        Jumps.Add(reading.At, reading.Value);
        Scatter.Add(ms, reading.Value);
        First ??= reading.At;
        (Newest, Value) = (reading.At, reading.Value);
    }

    /// <summary>Tells of an hour that lies before everything that was added: for what is known from long-kept sums.</summary>
    /// <param name="start">Start of the hour.</param>
    /// <param name="mean">Mean value.</param>
    /// <param name="least">Least value.</param>
    /// <param name="most">Greatest value.</param>
    public void Recall(Instant start, double mean, double least, double most)
        => _hours.Set(start.ToUnixTimeMilliseconds(), mean, least, most);

    /// <summary>The cell that starts at <paramref name="start"/> (a whole ten minutes), or null when nothing is known of it.</summary>
    public TroubleSum? Cell(Instant start) => _cells.At(start.ToUnixTimeMilliseconds());

    /// <summary>The hour that starts at <paramref name="start"/> (a whole hour), or null.</summary>
    public TroubleSum? Hour(Instant start) => _hours.At(start.ToUnixTimeMilliseconds());

    /// <summary>Start of the hour that holds a time.</summary>
    public static Instant HourOf(Instant at) => Start(at, 3_600_000);

    /// <summary>Start of the cell that holds a time.</summary>
    public static Instant CellOf(Instant at) => Start(at, 600_000);

    /// <summary>Hourly means over [from, to), oldest first, as points at the middle of each hour, thinned to the newest.</summary>
    public IReadOnlyList<TroublePoint> HourPoints(Instant from, Instant to)
    {
        List<TroublePoint> points = [];
        Instant first = HourOf(from);
        Instant earliest = HourOf(to) - Duration.FromHours(TroubleRules.EvidencePoints - 1);
        for (Instant hour = first > earliest ? first : earliest; hour < to; hour += Duration.FromHours(1))
        {
            if (Hour(hour) is { } sum)
            {
                points.Add(new TroublePoint(hour + Duration.FromMinutes(30), sum.Mean));
            }
        }

        return points;
    }

    private static Instant Start(Instant at, long width)
    {
        long ms = at.ToUnixTimeMilliseconds();
        return Instant.FromUnixTimeMilliseconds(ms - (((ms % width) + width) % width));
    }
}
