namespace Incubation.EndToEnd.Tests.Instruments;

/// <summary>Waits for something to become true in another process, which can only be asked again and again.</summary>
internal static class Waiting
{
    private static readonly TimeSpan Between = TimeSpan.FromMilliseconds(25);

    public static Task Pause(TimeSpan time, CancellationToken stop) => Task.Delay(time, TimeProvider.System, stop);

    /// <summary>Asks until the answer is not null, and fails with the words when the time is over.</summary>
    public static async Task<T> ForAsync<T>(Func<Task<T?>> ask, TimeSpan limit, string what, CancellationToken stop) where T : class
    {
        long start = TimeProvider.System.GetTimestamp();
        while (true)
        {
            if (await ask() is { } answer)
            {
                return answer;
            }

            if (TimeProvider.System.GetElapsedTime(start) > limit)
            {
                throw new TimeoutException($"Waited {limit.TotalSeconds:0.#} s for {what}.");
            }

            await Pause(Between, stop);
        }
    }

    public static Task<T> ForAsync<T>(Func<T?> ask, TimeSpan limit, string what, CancellationToken stop) where T : class
        => ForAsync(() => Task.FromResult(ask()), limit, what, stop);

    public static async Task UntilAsync(Func<Task<bool>> holds, TimeSpan limit, string what, CancellationToken stop)
        => await ForAsync<object>(async () => await holds() ? new object() : null, limit, what, stop);
}
