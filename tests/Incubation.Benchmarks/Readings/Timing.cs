namespace Incubation.Benchmarks.Readings;

/// <summary>Times of short pieces of work.</summary>
internal static class Timing
{
    public static double Milliseconds(Action work)
    {
        long begun = TimeProvider.System.GetTimestamp();
        work();
        return TimeProvider.System.GetElapsedTime(begun).TotalMilliseconds;
    }

    /// <summary>Times of so many runs, after one that isn't counted.</summary>
    public static List<double> Runs(int count, Action<int> work)
    {
        work(0);
        return [.. Enumerable.Range(1, count).Select(run => Milliseconds(() => work(run)))];
    }
}
