using System.Net.Http.Json;
using System.Text.Json;
using Incubation.Core.Alarms;
using Incubation.Core.Readings;
using Incubation.Service.Tests.Hosting;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Time.Testing;
using NodaTime;
using Xunit;

namespace Incubation.Service.Tests.FirstScreen;

public sealed class NowTests
{
    private static readonly Instant Now = Instant.FromUtc(2026, 11, 25, 3, 0);
    private readonly Doubles _doubles = new();

    [Fact]
    public async Task Get_with_nothing_set_up_says_what_to_do_first()
    {
        JsonElement now = await ReadAsync();
        Assert.Equal("unknown", Tone(now));
        Assert.Equal("No incubator is watched yet.", Sentence(now));
        Assert.Equal(["/new-incubator", "/calling"], now.GetProperty("toDo").EnumerateArray().Select(t => t.GetProperty("href").GetString()));
        Assert.False(now.GetProperty("callOut").GetProperty("reachable").GetBoolean());
    }

    [Fact]
    public async Task Get_with_everything_in_band_and_someone_to_call_is_calm()
    {
        _doubles.Place("hazel", "Hazel", "hazel-air");
        Hear("hazel-air", 31.4);
        JsonElement now = await ReadAsync(callOut: true);
        Assert.Equal(("calm", "All is well: Hazel is in its band."), (Tone(now), Sentence(now)));
        JsonElement temperature = Temperature(now);
        Assert.Equal(("good", "in band", "Cel"), (Text(temperature, "quality"), Text(temperature, "standing"), Text(temperature, "unit")));
        Assert.Equal(31.4, temperature.GetProperty("value").GetDouble());
        Assert.Equal("2026-11-25T03:00:00Z", Text(temperature, "at"));
        Assert.Empty(now.GetProperty("toDo").EnumerateArray());
    }

    [Theory]
    [InlineData(11, ReadingMarks.None, "silent")]
    [InlineData(0, ReadingMarks.Faulty, "unknown")]
    [InlineData(0, ReadingMarks.Retained, "unknown")]
    [InlineData(-30, ReadingMarks.None, "silent")]
    public async Task Get_without_a_fresh_good_reading_is_never_calm(int minutesAgo, ReadingMarks marks, string quality)
    {
        _doubles.Place("hazel", "Hazel", "hazel-air");
        _doubles.Hear("hazel-air", 31.4, Now - Duration.FromMinutes(minutesAgo), marks);
        JsonElement now = await ReadAsync(callOut: true);
        Assert.Equal("unknown", Tone(now));
        Assert.Equal(marks == ReadingMarks.Faulty ? "faulty" : quality, Text(Temperature(now), "quality"));
        Assert.Equal("not judged", Text(Temperature(now), "standing"));
    }

    [Fact]
    public async Task Get_with_a_second_placed_probe_that_never_spoke_is_not_calm()
    {
        _doubles.Place("hazel", "Hazel", "hazel-air", "hazel-eggs");
        Hear("hazel-air", 31.4);
        JsonElement now = await ReadAsync(callOut: true);
        Assert.Equal("unknown", Tone(now));
        Assert.Contains("hazel-eggs", Sentence(now), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Get_shows_the_probe_furthest_out_and_its_trend()
    {
        _doubles.Place("hazel", "Hazel", "hazel-air", "hazel-eggs");
        for (int minute = 60; minute >= 0; minute -= 5)
        {
            _doubles.Hear("hazel-air", 31.5, Now - Duration.FromMinutes(minute));
            _doubles.Hear("hazel-eggs", 33 - (minute / 60.0), Now - Duration.FromMinutes(minute));
        }

        JsonElement temperature = Temperature(await ReadAsync());
        Assert.Equal(("hazel-eggs", "warning high"), (Text(temperature, "probe"), Text(temperature, "standing")));
        Assert.Equal(1.0, temperature.GetProperty("perHour").GetDouble(), 2);
        Assert.Equal([3600, 32], temperature.GetProperty("lastHour")[0].EnumerateArray().Select(v => v.GetDouble()));
    }

    [Fact]
    public async Task Get_with_an_alarm_says_it_first_in_the_scale_asked_for()
    {
        _doubles.Place("hazel", "Hazel", "hazel-air");
        Hear("hazel-air", 34.1);
        Guid occurrence = Guid.CreateVersion7();
        _doubles.Alarms.Add(new StandingAlarm(
            occurrence, new AlarmKey("hazel", "", Quantity.Temperature, AlarmCondition.High, AlarmSeverity.Danger), AlarmState.Unacknowledged,
            Now - Duration.FromMinutes(12), 34.1, 33.5, 34.2, null, null, null, new NextCall("Mara", Now + Duration.FromMinutes(3))));
        JsonElement now = await ReadAsync(callOut: true, query: "?temperature=degF");
        Assert.Equal("danger", Tone(now));
        Assert.Equal("Hazel is too warm: 93.4 °F, 1.1 °F above the danger limit of 92.3 °F, for 12 minutes.", Sentence(now));
        Assert.Equal("Nobody has answered. Mara is called at 03:03.", Text(now.GetProperty("headline"), "next"));
        Assert.Equal(occurrence, now.GetProperty("headline").GetProperty("occurrence").GetGuid());
        JsonElement alarm = Assert.Single(now.GetProperty("alarms").EnumerateArray().ToArray());
        Assert.Equal(34.1, alarm.GetProperty("value").GetDouble());
        Assert.Equal(("high", "danger", "unacknowledged"), (Text(alarm, "condition"), Text(alarm, "severity"), Text(alarm, "state")));
        Assert.Single(now.GetProperty("incubators")[0].GetProperty("alarms").EnumerateArray().ToArray());
    }

    [Fact]
    public async Task Get_with_probes_that_are_not_placed_counts_them()
    {
        Hear("new-probe", 30);
        JsonElement now = await ReadAsync();
        Assert.Equal(1, now.GetProperty("notPlaced").GetInt32());
        Assert.Contains(now.GetProperty("toDo").EnumerateArray(), t => Text(t, "what") == "1 probe is heard but not placed: say where it is.");
    }

    private void Hear(string probe, double value) => _doubles.Hear(probe, value, Now);

    private async Task<JsonElement> ReadAsync(bool callOut = false, string query = "")
    {
        var time = new FakeTimeProvider(Now.ToDateTimeOffset());
        await using RunningService service = await RunningService.StartAsync(demo: true, also: services =>
        {
            services.AddSingleton<TimeProvider>(time);
            _doubles.AddTo(services);
        });
        if (callOut)
        {
            await using RecordsContext records = service.Services.GetRequiredService<IDbContextFactory<RecordsContext>>().CreateDbContext();
            records.CallSteps.Add(new CallStepRecord { Id = Guid.CreateVersion7(), Who = "Mara", Channel = "webhook", Address = "http://127.0.0.1:9/", Enabled = true });
            await records.SaveChangesAsync(TestContext.Current.CancellationToken);
        }

        using HttpClient browser = service.Browser();
        return await browser.GetFromJsonAsync<JsonElement>($"/api/now{query}", TestContext.Current.CancellationToken);
    }

    private static JsonElement Temperature(JsonElement now) => now.GetProperty("incubators")[0].GetProperty("quantities")[0];

    private static string? Tone(JsonElement now) => Text(now.GetProperty("headline"), "tone");

    private static string? Sentence(JsonElement now) => Text(now.GetProperty("headline"), "sentence");

    private static string? Text(JsonElement element, string name) => element.GetProperty(name).GetString();
}
