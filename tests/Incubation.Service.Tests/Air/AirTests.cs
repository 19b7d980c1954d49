using System.Net;
using System.Text.Json;
using Incubation.Service.Tests.Readings;
using Xunit;

namespace Incubation.Service.Tests.Air;

public sealed class AirTests
{
    [Fact]
    public async Task Air_is_not_known_until_a_hygrometer_is_fresh_and_then_says_what_drips()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        await using ProbeClient probe = await ProbeClient.ConnectAsync(host);
        string hazel = await host.AddIncubatorAsync("Hazel");
        await probe.PublishAsync("incubation/hazel/hazel-air/temperature", "31.5");
        await host.PlaceAsync("hazel-air", hazel);
        JsonElement before = await host.GetAsync($"/api/incubators/{hazel}/air");
        Assert.Equal(JsonValueKind.Null, before.GetProperty("dewPoint").ValueKind);
        Assert.Contains("no hygrometer", before.GetProperty("words").GetString(), StringComparison.Ordinal);

        await probe.PublishAsync("incubation/hazel/hazel-air/humidity", "95");
        await probe.PublishAsync("incubation/hazel/hazel-lid/temperature", "28");
        await host.PlaceAsync("hazel-lid", hazel, "lid");

        JsonElement air = await host.GetAsync($"/api/incubators/{hazel}/air");
        Assert.Equal(30.6, air.GetProperty("dripsBelow").GetDouble(), 0.05);
        Assert.Equal("hazel-air", air.GetProperty("probe").GetString());
        Assert.InRange(air.GetProperty("dewPoint").GetDouble(),
            air.GetProperty("spread").GetProperty("dewPoint").GetProperty("low").GetDouble(), air.GetProperty("spread").GetProperty("dewPoint").GetProperty("high").GetDouble());
        Assert.Contains("At hazel-lid it is 28.0 °C: water condenses there.", air.GetProperty("words").GetString(), StringComparison.Ordinal);
        Assert.Contains("82.4 °F", (await host.GetAsync($"/api/incubators/{hazel}/air?temperature=degF")).GetProperty("words").GetString(), StringComparison.Ordinal);
        host.Time.Advance(TimeSpan.FromHours(3));
        Assert.Equal(JsonValueKind.Null, (await host.GetAsync($"/api/incubators/{hazel}/air")).GetProperty("dewPoint").ValueKind);
    }

    [Theory]
    [InlineData("nowhere/air", HttpStatusCode.NotFound)]
    [InlineData("hazel/air?probe=nobody", HttpStatusCode.NotFound)]
    [InlineData("hazel/air?temperature=K", HttpStatusCode.BadRequest)]
    public async Task What_is_asked_wrongly_is_a_problem(string path, HttpStatusCode status)
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        await host.AddIncubatorAsync("Hazel");

        using HttpResponseMessage answer = await host.Http.GetAsync($"/api/incubators/{path}", TestContext.Current.CancellationToken);

        Assert.Equal(status, answer.StatusCode);
    }
}
