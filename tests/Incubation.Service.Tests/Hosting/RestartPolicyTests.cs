using Incubation.Service.Hosting;
using Xunit;

namespace Incubation.Service.Tests.Hosting;

public sealed class RestartPolicyTests
{
    [Fact]
    public void Failed_in_a_row_pauses_longer_each_time_and_then_gives_up()
    {
        var policy = new RestartPolicy();
        TimeSpan?[] pauses = [.. Enumerable.Range(0, 5).Select(second => policy.Failed(TimeSpan.FromSeconds(second)))];
        Assert.Equal([TimeSpan.FromSeconds(1), TimeSpan.FromSeconds(2), TimeSpan.FromSeconds(4), TimeSpan.FromSeconds(8), null], pauses);
    }

    [Fact]
    public void Failed_rarely_never_gives_up()
    {
        var policy = new RestartPolicy();
        for (int hour = 0; hour < 1000; hour++)
        {
            Assert.Equal(TimeSpan.FromSeconds(1), policy.Failed(TimeSpan.FromHours(hour)));
        }
    }
}
