using System.Net;
using System.Text;
using Incubation.Service.Hosting;
using Incubation.Service.Readings;
using Microsoft.Extensions.Options;
using Xunit;

namespace Incubation.Service.Tests.Readings;

public sealed class ConnectionGateTests
{
    [Theory]
    [InlineData(null, null, true, null, null, true)]
    [InlineData(null, null, true, "anyone", "anything", true)]
    [InlineData(null, null, false, null, null, false)]
    [InlineData(null, null, false, "", "", false)]
    [InlineData("probes", "", false, "probes", "", false)]
    [InlineData("probes", "secret", true, null, null, true)]
    [InlineData("probes", "secret", true, "probes", "wrong", false)]
    [InlineData("probes", "secret", false, null, null, false)]
    [InlineData("probes", "secret", false, "probes", "wrong", false)]
    [InlineData("probes", "secret", false, "Probes", "secret", false)]
    [InlineData("probes", "secret", false, "probes", "secret", true)]
    public void MayConnect_beyond_this_machine_needs_user_and_password(
        string? user, string? password, bool here, string? givenUser, string? givenPassword, bool allowed)
    {
        IncubationOptions options = new() { Mqtt = new MqttOptions { User = user, Password = password } };
        ConnectionGate gate = new(Options.Create(options));

        Assert.Equal(allowed, gate.MayConnect(here, givenUser, givenPassword is null ? null : Encoding.UTF8.GetBytes(givenPassword)));
    }

    [Theory]
    [InlineData("127.0.0.1", true)]
    [InlineData("127.8.9.10", true)]
    [InlineData("::1", true)]
    [InlineData("::ffff:127.0.0.1", true)]
    [InlineData("::ffff:192.0.2.1", false)]
    [InlineData("192.0.2.1", false)]
    [InlineData("0.0.0.0", false)]
    public void IsLoopback_knows_this_machine_in_both_address_families(string address, bool loopback)
        => Assert.Equal(loopback, ConnectionGate.IsLoopback(new IPEndPoint(IPAddress.Parse(address), 5000)));

    [Fact]
    public void IsLoopback_of_an_unknown_kind_of_address_is_not_this_machine()
    {
        Assert.False(ConnectionGate.IsLoopback(null));
        Assert.False(ConnectionGate.IsLoopback(new DnsEndPoint("localhost", 5000)));
    }
}
