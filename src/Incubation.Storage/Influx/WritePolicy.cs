using System.Globalization;

namespace Incubation.Storage.Influx;

/// <summary>
/// What follows from an answer to a write. Pure. The meaning of the statuses is InfluxDB's own
/// (https://docs.influxdata.com/influxdb/v2/write-data/troubleshoot/); Retry-After is RFC 9110, 10.2.3. The pauses are common practice, no source.
/// </summary>
internal static class WritePolicy
{
    /// <summary>The longest pause while InfluxDB is away: it is back for no longer than this before it is noticed.</summary>
    public static readonly TimeSpan Longest = TimeSpan.FromMinutes(5);

    /// <summary>The pause after a refusal that only a person can lift.</summary>
    public static readonly TimeSpan Seldom = TimeSpan.FromMinutes(15);

    private static readonly TimeSpan MostObeyed = TimeSpan.FromHours(1);

    /// <param name="answer">What InfluxDB said.</param>
    /// <param name="points">Points in the write.</param>
    /// <param name="failures">Writes in a row before this one that were not taken.</param>
    /// <param name="chance">From 0 up to 1, so that several services don't all come back at once.</param>
    public static WriteVerdict Judge(WriteAnswer answer, int points, int failures, double chance) => answer.Status switch
    {
        // Only this one means that the points are there. A page of some other server answers 200.
        204 => new(NextMove.Done, TimeSpan.Zero, CopyCondition.Well, "Everything that was sent has arrived."),
        400 or 422 when points > 1 => new(NextMove.Split, TimeSpan.Zero, CopyCondition.Well, "InfluxDB refuses a point; it is being found."),
        413 when points > 1 => new(NextMove.SplitForGood, TimeSpan.Zero, CopyCondition.Well, "InfluxDB wants less at once."),
        400 or 413 or 422 => new(NextMove.SetAside, TimeSpan.Zero, CopyCondition.Well, answer.Said),
        401 or 403 => Stop(Seldom, $"InfluxDB refuses the token: {answer.Said}. Set Incubation:Influx:Token to one that may write this bucket."),
        404 => Stop(Longest, $"InfluxDB knows no such bucket: {answer.Said}. Make it, or set Incubation:Influx:Bucket and Org to one that is there."),
        429 or 503 => new(NextMove.Again, Pause(answer.RetryAfter, failures, chance), CopyCondition.Away, Away("InfluxDB is busy", answer.Said)),
        null => new(NextMove.Again, Pause(null, failures, chance), CopyCondition.Away, Away("InfluxDB does not answer", answer.Said)),
        408 or >= 500 => new(NextMove.Again, Pause(null, failures, chance), CopyCondition.Away, Away(Faulty(answer.Status.Value), answer.Said)),
        { } other => Stop(Seldom,
            $"InfluxDB answered {other.ToString(CultureInfo.InvariantCulture)}: {answer.Said}. Check Incubation:Influx:Url; a write goes to its /api/v2/write."),
    };

    private static WriteVerdict Stop(TimeSpan pause, string words) => new(NextMove.Again, pause, CopyCondition.Stopped, words);

    private static string Away(string what, string said) => $"{what}: {said}. Readings are safe in this service and are copied when it is back.";

    private static string Faulty(int status) => string.Create(CultureInfo.InvariantCulture, $"InfluxDB has a fault ({status})");

    private static TimeSpan Pause(TimeSpan? asked, int failures, double chance)
    {
        if (asked is { } wish && wish > TimeSpan.Zero)
        {
            return wish < MostObeyed ? wish : MostObeyed;
        }

        // 1, 2, 4 … 256, 300 s, less up to half of it by chance.
        double full = Math.Min(Longest.TotalSeconds, Math.Pow(2, Math.Min(failures, 9)));
        return TimeSpan.FromSeconds(full * (1 - chance / 2));
    }
}
