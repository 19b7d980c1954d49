using System.Net;
using System.Text;
using Incubation.Core.Alarms;
using Incubation.Core.Readings;
using Incubation.Service.Facility;
using Incubation.Service.Tests.Readings;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace Incubation.Service.Tests.Facility;

public sealed class BandTests
{
    private const string Right =
        """
        {"dangerLow":29.5,"warningLow":30.5,"warningHigh":32.5,"dangerHigh":33.5,"deadband":0.2,"warningOnDelaySeconds":300,
        "dangerOnDelaySeconds":60,"offDelaySeconds":120,"silentAfterSeconds":600}
        """;

    [Fact]
    public async Task The_newest_band_holds_and_the_ones_before_stay_as_evidence()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        string key = await host.AddIncubatorAsync("Hazel");

        // The clock stands still: the newest holds all the same.
        for (int i = 0; i < 3; i++)
        {
            using HttpResponseMessage answer = await PutAsync(host, key, "temperature", Right.Replace("33.5", $"34.{i}", StringComparison.Ordinal));
            Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        }

        Band band = host.Services.GetRequiredService<IFacility>().Current.Bands[(key, Quantity.Temperature)];
        Assert.Equal(34.2, band.DangerHigh);
        await using RecordsContext records = await host.Services.GetRequiredService<IDbContextFactory<RecordsContext>>()
            .CreateDbContextAsync(TestContext.Current.CancellationToken);
        Assert.Equal(4, await records.Bands.CountAsync(b => b.Quantity == "temperature", TestContext.Current.CancellationToken));
        Assert.Equal("Ada", (await records.Bands.FirstAsync(TestContext.Current.CancellationToken)).By);
    }

    [Theory]
    [InlineData("\"dangerLow\":29.5", "\"dangerLow\":-40.1", "dangerLow")]
    [InlineData("\"dangerHigh\":33.5", "\"dangerHigh\":80.1", "dangerHigh")]
    [InlineData("\"dangerHigh\":33.5", "\"dangerHigh\":1e999", "dangerHigh")]
    [InlineData("\"dangerHigh\":33.5", "\"dangerHigh\":\"NaN\"", "dangerHigh")]
    [InlineData("\"dangerHigh\":33.5", "\"dangerHigh\":\"33.5\"", "dangerHigh")]
    [InlineData("\"warningLow\":30.5", "\"warningLow\":29.5", "warningLow")]
    [InlineData("\"warningHigh\":32.5", "\"warningHigh\":30", "warningHigh")]
    [InlineData("\"warningHigh\":32.5,\"dangerHigh\":33.5", "\"warningHigh\":32.5,\"dangerHigh\":32.5", "dangerHigh")]
    [InlineData("\"warningLow\":30.5,\"warningHigh\":32.5", "\"dangerHigh\":29", "dangerHigh")]
    [InlineData("\"deadband\":0.2", "\"deadband\":-0.1", "deadband")]
    [InlineData("\"deadband\":0.2", "\"deadband\":2", "deadband")]
    [InlineData("\"deadband\":0.2,", "", "deadband")]
    [InlineData("\"warningOnDelaySeconds\":300", "\"warningOnDelaySeconds\":-1", "warningOnDelaySeconds")]
    [InlineData("\"dangerOnDelaySeconds\":60", "\"dangerOnDelaySeconds\":86401", "dangerOnDelaySeconds")]
    [InlineData("\"offDelaySeconds\":120", "\"offDelaySeconds\":1.5", "offDelaySeconds")]
    [InlineData("\"silentAfterSeconds\":600", "\"silentAfterSeconds\":0", "silentAfterSeconds")]
    [InlineData("\"silentAfterSeconds\":600", "\"silentAfterSeconds\":null", "silentAfterSeconds")]
    public async Task A_wrong_field_is_named_with_what_is_allowed_and_nothing_changes(string right, string wrong, string field)
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        string key = await host.AddIncubatorAsync("Hazel");
        string body = Right.ReplaceLineEndings("");
        Assert.Contains(right, body, StringComparison.Ordinal);
        body = body.Replace(right, wrong, StringComparison.Ordinal);
        if (wrong == "\"dangerHigh\":29")
        {
            body = body.Replace(",\"dangerHigh\":33.5", "", StringComparison.Ordinal);
        }

        using HttpResponseMessage answer = await PutAsync(host, key, "temperature", body);

        await Problem.Is(answer, HttpStatusCode.BadRequest, field);
        Assert.Equal(33.5, host.Services.GetRequiredService<IFacility>().Current.Bands[(key, Quantity.Temperature)].DangerHigh);
    }

    [Theory]
    [InlineData("null")]
    [InlineData("[]")]
    [InlineData("{")]
    [InlineData("")]
    public async Task A_body_that_is_no_band_is_a_problem_document(string body)
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        string key = await host.AddIncubatorAsync("Hazel");

        using HttpResponseMessage answer = await PutAsync(host, key, "temperature", body);

        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.Equal("application/problem+json", answer.Content.Headers.ContentType?.MediaType);
    }

    [Fact]
    public async Task Limits_may_be_left_out_and_humidity_has_its_own_range()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        string key = await host.AddIncubatorAsync("Hazel");

        using HttpResponseMessage fine = await PutAsync(host, key, "humidity", Humidity("null", "75"));
        using HttpResponseMessage wrong = await PutAsync(host, key, "humidity", Humidity("null", "101"));

        Assert.Equal(HttpStatusCode.OK, fine.StatusCode);
        await Problem.Is(wrong, HttpStatusCode.BadRequest, "warningLow");
        Band band = host.Services.GetRequiredService<IFacility>().Current.Bands[(key, Quantity.Humidity)];
        Assert.Null(band.DangerLow);
        Assert.Equal(75, band.WarningLow);

        static string Humidity(string dangerLow, string warningLow) =>
            $$"""
            {"dangerLow":{{dangerLow}},"warningLow":{{warningLow}},"warningHigh":null,"dangerHigh":null,"deadband":2,"warningOnDelaySeconds":0,
            "dangerOnDelaySeconds":0,"offDelaySeconds":86400,"silentAfterSeconds":86400}
            """;
    }

    [Fact]
    public async Task A_misspelt_quantity_and_an_unknown_incubator_are_told_apart()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        string key = await host.AddIncubatorAsync("Hazel");

        using HttpResponseMessage quantity = await PutAsync(host, key, "temprature", Right);
        using HttpResponseMessage incubator = await PutAsync(host, "rowan", "temperature", Right);

        await Problem.Is(quantity, HttpStatusCode.BadRequest, "quantity");
        Assert.Equal(HttpStatusCode.NotFound, incubator.StatusCode);
    }

    private static async Task<HttpResponseMessage> PutAsync(IntakeHost host, string key, string quantity, string body)
    {
        using StringContent content = new(body, Encoding.UTF8, "application/json");
        return await host.Http.PutAsync($"/api/incubators/{key}/bands/{quantity}", content, TestContext.Current.CancellationToken);
    }
}
