using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using Xunit;

namespace Incubation.Service.Tests.Hosting;

public sealed class BrokerAddressTests
{
    private static readonly Uri Broker = new("/api/broker", UriKind.Relative);

    [Fact]
    public async Task Broker_is_shown_with_the_port_that_was_taken_and_only_to_those_signed_in()
    {
        await using RunningService service = await RunningService.StartAsync();
        using HttpClient stranger = service.Browser();
        using HttpResponseMessage refused = await stranger.GetAsync(Broker, TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.Unauthorized, refused.StatusCode);

        using HttpClient browser = await service.ClaimedAsync();
        JsonElement broker = await browser.GetFromJsonAsync<JsonElement>(Broker, TestContext.Current.CancellationToken);
        Assert.Equal(RunningService.PortOf(service.Addresses[1]), broker.GetProperty("port").GetInt32());
        Assert.Equal("incubation/{incubator}/{probe}/{quantity}", broker.GetProperty("topic").GetString());
        Assert.False(broker.GetProperty("beyond").GetBoolean());
        Assert.Equal(JsonValueKind.Null, broker.GetProperty("user").ValueKind);
    }

    [Fact]
    public async Task Broker_with_user_and_password_is_heard_beyond_this_machine_and_never_shows_the_password()
    {
        await using RunningService service = await RunningService.StartAsync(settings: new()
        {
            ["Incubation:Mqtt:User"] = "probe",
            ["Incubation:Mqtt:Password"] = "heron-on-the-roof",
        });
        using HttpClient browser = await service.ClaimedAsync();
        string text = await browser.GetStringAsync(Broker, TestContext.Current.CancellationToken);
        JsonElement broker = JsonDocument.Parse(text).RootElement;
        Assert.True(broker.GetProperty("beyond").GetBoolean());
        Assert.Equal("probe", broker.GetProperty("user").GetString());
        Assert.DoesNotContain("heron-on-the-roof", text, StringComparison.Ordinal);
    }
}
