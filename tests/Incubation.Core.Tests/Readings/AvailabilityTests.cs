using System.Text;
using Incubation.Core.Readings;
using Xunit;

namespace Incubation.Core.Tests.Readings;

public sealed class AvailabilityTests
{
    [Theory]
    [InlineData("online", true)]
    [InlineData(" Offline\n", false)]
    [InlineData("\"online\"", true)]
    [InlineData("{\"state\":\"offline\"}", false)]
    [InlineData("{\"version\":[1,2],\"status\":\"ONLINE\",\"ip\":{\"v4\":\"192.0.2.7\"}}", true)]
    public void TryRead_status_as_probes_send_it(string payload, bool online)
    {
        Assert.True(Availability.TryRead(Encoding.UTF8.GetBytes(payload), out bool read));
        Assert.Equal(online, read);
    }

    [Theory]
    [InlineData("")]
    [InlineData(" ")]
    [InlineData("on")]
    [InlineData("1")]
    [InlineData("\"away\"")]
    [InlineData("\"online\" \"offline\"")]
    [InlineData("{\"state\":true}")]
    [InlineData("{\"State\":\"online\"}")]
    [InlineData("{\"state\":\"online\"")]
    [InlineData("{\"state\":\"online\"}}")]
    [InlineData("{\"\\ud800\":1}")]
    [InlineData("[\"online\"]")]
    public void TryRead_anything_else_is_no_status(string payload)
    {
        Assert.False(Availability.TryRead(Encoding.UTF8.GetBytes(payload), out bool read));
        Assert.False(read);
    }

    [Fact]
    public void TryRead_longer_than_the_bound_is_no_status() =>
        Assert.False(Availability.TryRead(Encoding.UTF8.GetBytes("{\"state\":\"online\",\"x\":\"" + new string('x', 500) + "\"}"), out _));
}
