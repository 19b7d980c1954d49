using Xunit;

namespace Incubation.Service.Tests.Hosting;

/// <summary>Waits for a condition; the limit is only there so that a broken test ends.</summary>
internal static class Eventually
{
    public static async Task TrueAsync(Func<Task<bool>> condition, string what)
    {
        using var limit = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        limit.CancelAfter(TimeSpan.FromSeconds(60));
        while (!await condition())
        {
            Assert.False(limit.IsCancellationRequested, $"not within 60 s: {what}");
            await Task.Delay(TimeSpan.FromMilliseconds(10), TimeProvider.System, CancellationToken.None);
        }
    }

    public static Task TrueAsync(Func<bool> condition, string what) => TrueAsync(() => Task.FromResult(condition()), what);
}
