using System.Net;
using System.Net.Sockets;
using Incubation.Service.Hosting;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace Incubation.Service.Tests.Hosting;

public sealed class ListeningTests
{
    [Theory]
    [InlineData(false, false, "any", "secret", "localhost", "localhost")]
    [InlineData(true, false, "any", "secret", "*", "*")]
    [InlineData(true, false, "any", null, "*", "localhost")]
    [InlineData(true, false, "loopback", "secret", "localhost", "*")]
    [InlineData(true, true, "any", "secret", "localhost", "localhost")]
    public void For_listens_beyond_this_machine_only_when_everything_for_it_is_there(
        bool claimed, bool demo, string listen, string? password, string http, string mqtt)
    {
        var options = new IncubationOptions { Http = { Listen = listen }, Mqtt = { User = password is null ? null : "probe", Password = password } };
        Dictionary<string, string?> plan = ListenPlan.For(options, claimed, demo, 5080, 1883);
        Assert.Equal($"http://{http}:5080", plan["Endpoints:Http:Url"]);
        Assert.Equal($"http://{mqtt}:1883", plan["Endpoints:Mqtt:Url"]);
    }

    // 127.0.0.2 is not the address that is listened on before the claim, so it stands for "another machine's way in" (RFC 1122, 3.2.1.3:
    // all of 127/8 is this host). Linux answers on all of it without set-up.
    [Fact]
    public async Task Claim_opens_other_addresses_on_the_same_port_without_a_restart()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "127.0.0.2 needs set-up elsewhere");
        await using RunningService service = await RunningService.StartAsync(also: services => services.AddSingleton<LocalAddresses>(new Second()));
        int port = service.HttpPort;
        Assert.False(await AnswersAsync(port));
        using HttpClient browser = await service.ClaimedAsync();
        // Nothing on this machine is cut off for a moment: the page that claimed goes on at once.
        for (int i = 0; i < 50; i++)
        {
            using HttpResponseMessage next = await browser.GetAsync(new Uri("/api/session", UriKind.Relative), TestContext.Current.CancellationToken);
            Assert.Equal(HttpStatusCode.OK, next.StatusCode);
        }

        await Eventually.TrueAsync(() => AnswersAsync(port), "an answer at 127.0.0.2");
        Assert.Equal(port, service.HttpPort);
        using HttpResponseMessage again = await browser.GetAsync(new Uri("/api/session", UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Contains("\"signed in\"", await again.Content.ReadAsStringAsync(TestContext.Current.CancellationToken), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Claim_leaves_a_service_that_is_set_to_loopback_closed()
    {
        await using RunningService service = await RunningService.StartAsync(
            settings: new() { ["Incubation:Http:Listen"] = "loopback" }, also: services => services.AddSingleton<LocalAddresses>(new Second()));
        int port = service.HttpPort;
        using HttpClient browser = await service.ClaimedAsync();
        using HttpResponseMessage still = await browser.GetAsync(new Uri("/readyz", UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.OK, still.StatusCode);
        Assert.False(await AnswersAsync(port));
    }

    private sealed class Second : LocalAddresses
    {
        public override IReadOnlyList<IPAddress> Find() => [IPAddress.Parse("127.0.0.2")];
    }

    private static async Task<bool> AnswersAsync(int port)
    {
        using var socket = new TcpClient();
        try
        {
            await socket.ConnectAsync(IPAddress.Parse("127.0.0.2"), port, TestContext.Current.CancellationToken);
            return true;
        }
        catch (SocketException)
        {
            return false;
        }
    }
}
