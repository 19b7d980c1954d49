namespace Incubation.Core.Readings;

/// <summary>Finds the stretches of a history in which a series fell silent.</summary>
public static class ReadingGaps
{
    /// <summary>
    /// Readings that have to be missing in a row before it counts as a gap. Fewer happen in any radio network. Common practice, no source.
    /// </summary>
    public const int Missed = 3;

    /// <summary>
    /// Stretches of [<paramref name="fromMs"/>, <paramref name="toMs"/>) without a good reading that are longer than <see cref="Missed"/> times
    /// the usual distance between readings, which is the median over the buckets. Edges stand where the nearest bucket with a reading begins or ends.
    /// </summary>
    /// <param name="startMs">Starts of the buckets that hold readings, Unix milliseconds, rising, on one grid.</param>
    /// <param name="count">Good readings in each; at least 1.</param>
    /// <param name="widthMs">Width of a bucket, milliseconds; at least 1.</param>
    /// <param name="fromMs">Start of the time looked at, Unix milliseconds.</param>
    /// <param name="toMs">Its end, and never later than now.</param>
    /// <returns>From and to of each gap, Unix milliseconds, rising. Empty when there is no bucket: nothing is known of such a series.</returns>
    public static IReadOnlyList<(long FromMs, long ToMs)> Find(
        IReadOnlyList<long> startMs, IReadOnlyList<int> count, long widthMs, long fromMs, long toMs)
    {
        List<(long, long)> gaps = [];
        if (startMs.Count == 0)
        {
            return gaps;
        }

        double longest = Missed * UsualDistance(startMs, count, widthMs);
        long silentSince = fromMs;
        for (int i = 0; i < startMs.Count; i++)
        {
            Add(startMs[i]);
            silentSince = startMs[i] + widthMs;
        }

        Add(toMs);
        return gaps;

        void Add(long until)
        {
            if (until - silentSince > longest)
            {
                gaps.Add((silentSince, until));
            }
        }
    }

    // How long a bucket's readings lasted until the next bucket with any: right for buckets of many readings and for many buckets a reading.
    private static double UsualDistance(IReadOnlyList<long> startMs, IReadOnlyList<int> count, long widthMs)
    {
        if (startMs.Count == 1)
        {
            return (double)widthMs / count[0];
        }

        double[] distances = new double[startMs.Count - 1];
        for (int i = 0; i < distances.Length; i++)
        {
            distances[i] = (double)(startMs[i + 1] - startMs[i]) / count[i];
        }

        Array.Sort(distances);
        return distances[distances.Length / 2];
    }
}
