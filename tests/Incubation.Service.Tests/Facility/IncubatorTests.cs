using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using Incubation.Service.Facility;
using Incubation.Service.Tests.Readings;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace Incubation.Service.Tests.Facility;

public sealed class IncubatorTests
{
    [Fact]
    public async Task A_new_incubator_gets_a_key_from_its_name_and_the_usual_bands()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();

        string key = await host.AddIncubatorAsync("  Große Hasel 2 ");

        Assert.Equal("gro-e-hasel-2", key);
        JsonElement detail = await host.GetAsync($"/api/incubators/{key}");
        Assert.Equal("Große Hasel 2", detail.GetProperty("name").GetString());
        JsonElement temperature = detail.GetProperty("bands").GetProperty("temperature");
        Assert.Equal(29.5, temperature.GetProperty("dangerLow").GetDouble());
        Assert.Equal(60, temperature.GetProperty("dangerOnDelaySeconds").GetInt32());
        JsonElement humidity = detail.GetProperty("bands").GetProperty("humidity");
        Assert.Equal(JsonValueKind.Null, humidity.GetProperty("warningHigh").ValueKind);
        Assert.Equal(900, humidity.GetProperty("silentAfterSeconds").GetInt32());
        Assert.Equal(2, host.Services.GetRequiredService<IFacility>().Current.Bands.Count);
    }

    [Theory]
    [InlineData("<b>Hazel</b> & co", "b-hazel-b-co")]
    [InlineData("🥚", "incubator")]
    [InlineData("Ünï", "uni")]
    public async Task A_name_is_just_text_whatever_stands_in_it(string name, string expected)
    {
        await using IntakeHost host = await IntakeHost.StartAsync();

        Assert.Equal(expected, await host.AddIncubatorAsync(name));
        Assert.Equal(expected + "-2", await host.AddIncubatorAsync(name));

        JsonElement listed = await host.GetAsync("/api/incubators");
        Assert.All(listed.EnumerateArray(), i => Assert.Equal(name, i.GetProperty("name").GetString()));
        Assert.Equal([0, 1], listed.EnumerateArray().Select(i => i.GetProperty("position").GetInt32()));
    }

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData("  \t ")]
    [InlineData("two\nlines")]
    [InlineData("\u200B")]
    [InlineData("123456789012345678901234567890123456789012345678901234567890123456789012345678901")]
    public async Task A_name_that_cannot_be_one_is_refused_with_what_is_allowed(string? name)
    {
        await using IntakeHost host = await IntakeHost.StartAsync();

        using HttpResponseMessage answer = await host.PostAsync("/api/incubators", new { name });

        await Problem.Is(answer, HttpStatusCode.BadRequest, "name");
        Assert.Equal(0, (await host.GetAsync("/api/incubators")).GetArrayLength());
    }

    [Fact]
    public async Task Rename_keeps_the_key_and_position_orders_the_list()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        string first = await host.AddIncubatorAsync("Hazel");
        await host.AddIncubatorAsync("Rowan");

        using HttpResponseMessage renamed = await host.PutAsync($"/api/incubators/{first}", new { name = "Hazel, left", position = 7 });
        using HttpResponseMessage wrong = await host.PutAsync($"/api/incubators/{first}", new { name = "Hazel", position = -1 });

        Assert.Equal(HttpStatusCode.OK, renamed.StatusCode);
        await Problem.Is(wrong, HttpStatusCode.BadRequest, "position");
        JsonElement listed = await host.GetAsync("/api/incubators");
        Assert.Equal("rowan", listed[0].GetProperty("key").GetString());
        Assert.Equal("Hazel, left", listed[1].GetProperty("name").GetString());
    }

    [Fact]
    public async Task An_incubator_with_a_probe_in_it_is_not_retired_and_a_retired_key_is_never_given_again()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        await using ProbeClient probe = await ProbeClient.ConnectAsync(host);
        await probe.PublishAsync("incubation/hazel/hazel-air/temperature", "31.4");
        string key = await host.AddIncubatorAsync("Hazel");
        await host.PlaceAsync("hazel-air", key);

        using HttpResponseMessage refused = await host.DeleteAsync($"/api/incubators/{key}");
        Assert.Equal(HttpStatusCode.Conflict, refused.StatusCode);
        using HttpResponseMessage taken = await host.DeleteAsync("/api/probes/hazel-air/placements/current");
        Assert.Equal(HttpStatusCode.NoContent, taken.StatusCode);
        using HttpResponseMessage retired = await host.DeleteAsync($"/api/incubators/{key}");
        Assert.Equal(HttpStatusCode.NoContent, retired.StatusCode);

        using HttpResponseMessage gone = await host.DeleteAsync($"/api/incubators/{key}");
        Assert.Equal(HttpStatusCode.NotFound, gone.StatusCode);
        Assert.Equal("hazel-2", await host.AddIncubatorAsync("Hazel"));
        Assert.Single(host.Services.GetRequiredService<IFacility>().Current.Incubators);
    }

    [Fact]
    public async Task A_viewer_may_look_and_not_change()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        host.Http.DefaultRequestHeaders.Add("X-Role", "viewer");

        using HttpResponseMessage refused = await host.PostAsync("/api/incubators", new { name = "Hazel" });

        Assert.Equal(HttpStatusCode.Forbidden, refused.StatusCode);
        Assert.Equal(0, (await host.GetAsync("/api/incubators")).GetArrayLength());
    }

    [Fact]
    public async Task The_facility_survives_a_restart()
    {
        string directory = Directory.CreateTempSubdirectory("incubation-test-").FullName;
        await using (IntakeHost before = await IntakeHost.StartAsync(directory: directory, keep: true))
        {
            await using ProbeClient probe = await ProbeClient.ConnectAsync(before);
            await probe.PublishAsync("incubation/hazel/hazel-air/temperature", "31.4");
            await before.PlaceAsync("hazel-air", await before.AddIncubatorAsync("Hazel"));
        }

        await using IntakeHost host = await IntakeHost.StartAsync(directory: directory);

        FacilitySnapshot snapshot = host.Services.GetRequiredService<IFacility>().Current;
        Assert.Equal("hazel", snapshot.Placements["hazel-air"].Incubator);
        JsonElement view = (await host.GetAsync("/api/probes")).GetProperty("placed")[0];
        Assert.Equal(31.4, view.GetProperty("series")[0].GetProperty("value").GetDouble());
        Assert.Equal("good", view.GetProperty("series")[0].GetProperty("quality").GetString());
    }
}

/// <summary>What every problem document must be (RFC 9457).</summary>
internal static class Problem
{
    public static async Task Is(HttpResponseMessage answer, HttpStatusCode status, string field)
    {
        Assert.Equal(status, answer.StatusCode);
        Assert.Equal("application/problem+json", answer.Content.Headers.ContentType?.MediaType);
        JsonElement body = await answer.Content.ReadFromJsonAsync<JsonElement>(TestContext.Current.CancellationToken);
        Assert.Equal((int)status, body.GetProperty("status").GetInt32());
        string allowed = body.GetProperty("errors").GetProperty(field)[0].GetString()!;
        Assert.False(string.IsNullOrWhiteSpace(allowed));
    }
}
