using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using Incubation.Service.Alarms;
using Incubation.Service.Tests.Calling;
using Incubation.Service.Tests.Hosting;
using Xunit;

namespace Incubation.Service.Tests.Alarms;

public sealed class AlarmHttpTests
{
    [Fact]
    public async Task Get_shows_the_alarm_and_an_answer_is_taken_once()
    {
        await using NightHouse house = await NightHouse.StartAsync();
        Assert.Empty((await house.GetAsync("/api/alarms")).EnumerateArray());
        Guid occurrence = await house.DriftAsync();
        JsonElement alarm = Assert.Single((await house.GetAsync("/api/alarms")).EnumerateArray().ToArray());
        Assert.Equal(occurrence, alarm.GetProperty("occurrence").GetGuid());
        Assert.Equal(("Python box", "high", "danger", "unacknowledged"), (Text(alarm, "incubatorName"), Text(alarm, "condition"), Text(alarm, "severity"), Text(alarm, "state")));
        Assert.Equal((34, 33.5), (alarm.GetProperty("value").GetDouble(), alarm.GetProperty("limit").GetDouble()));
        Assert.Contains("34.0 °C, 0.5 °C above its danger limit of 33.5 °C", Text(alarm, "words"), StringComparison.Ordinal);

        JsonElement answered = await house.PostAsync($"/api/alarms/{occurrence}/answers", new { });
        Assert.Equal(("acknowledged", "Ada"), (Text(answered, "state"), Text(answered, "answeredBy")));
        await AssertRefusedAsync(house, occurrence, HttpStatusCode.Conflict, "Ada has answered this alarm already");

        house.ComeBack();
        await Eventually.TrueAsync(() => house.Get<IAlarmDesk>().Standing().Count == 0, "the end of the alarm");
        await AssertRefusedAsync(house, occurrence, HttpStatusCode.Conflict, "This alarm is over; Ada answered it.");
    }

    [Fact]
    public async Task Post_for_an_alarm_that_was_never_raised_is_404_and_a_stranger_is_401()
    {
        await using NightHouse house = await NightHouse.StartAsync();
        Guid occurrence = await house.DriftAsync();
        await AssertRefusedAsync(house, Guid.NewGuid(), HttpStatusCode.NotFound, "There is no alarm");
        using HttpClient stranger = house.Service.Browser();
        using HttpResponseMessage refused = await stranger.PostAsync(new Uri($"/api/alarms/{occurrence}/answers", UriKind.Relative), null, NightHouse.Stop);
        Assert.Equal(HttpStatusCode.Unauthorized, refused.StatusCode);
        using HttpResponseMessage crooked = await house.Keeper.PostAsync(new Uri("/api/alarms/not-a-guid/answers", UriKind.Relative), null, NightHouse.Stop);
        Assert.Equal(HttpStatusCode.NotFound, crooked.StatusCode);
    }

    [Fact]
    public async Task Journal_is_read_page_by_page_newest_first()
    {
        await using NightHouse house = await NightHouse.StartAsync();
        Guid occurrence = await house.DriftAsync();
        await house.PostAsync($"/api/alarms/{occurrence}/answers", new { });
        house.ComeBack();
        await Eventually.TrueAsync(() => house.Get<IAlarmDesk>().Standing().Count == 0, "the end of the alarm");
        await house.WrittenAsync();

        List<string?> events = [];
        long? before = null;
        while (true)
        {
            JsonElement page = await house.GetAsync($"/api/alarms/journal?limit=1{(before is null ? "" : $"&before={before}")}&incubator={house.Incubator}");
            if (page.GetArrayLength() == 0)
            {
                break;
            }

            JsonElement line = Assert.Single(page.EnumerateArray().ToArray());
            events.Add(Text(line, "event"));
            before = line.GetProperty("id").GetInt64();
        }

        Assert.Equal(["returned", "answered", "raised"], events);
        Assert.Equal(0, (await house.GetAsync("/api/alarms/journal?incubator=elsewhere")).GetArrayLength());
        foreach (string limit in (string[])["0", "1001", "-1", "many"])
        {
            using HttpResponseMessage refused = await house.Keeper.GetAsync(new Uri($"/api/alarms/journal?limit={limit}", UriKind.Relative), NightHouse.Stop);
            Assert.Equal((HttpStatusCode.BadRequest, "application/problem+json"), (refused.StatusCode, refused.Content.Headers.ContentType?.MediaType));
        }
    }

    [Fact]
    public async Task A_silence_says_the_name_of_the_probe_since_when_and_what_was_known_last()
    {
        await using NightHouse house = await NightHouse.StartAsync();
        (await house.Keeper.PutAsJsonAsync($"/api/probes/{NightHouse.Probe}", new { name = "Grey box probe" }, NightHouse.Stop)).EnsureSuccessStatusCode();
        house.Time.Advance(TimeSpan.FromMinutes(10));
        await Eventually.TrueAsync(() => house.Get<IAlarmDesk>().Standing().Count == 2, "the silence");
        JsonElement alarm = (await house.GetAsync("/api/alarms")).EnumerateArray().Single(a => Text(a, "condition") == "no reading");
        Assert.Equal(
            "Python box: probe Grey box probe has sent no good temperature since 03:00; the last was 31.4 °C. The alarm stands since 03:10.", Text(alarm, "words"));
        JsonElement now = (await house.GetAsync("/api/now?temperature=degF")).GetProperty("alarms").EnumerateArray().Single(a => Text(a, "condition") == "no reading");
        Assert.Equal("Python box is not seen: probe Grey box probe has sent no good temperature for 10 minutes; the last was 88.5 °F.", Text(now, "words"));
    }

    private static async Task AssertRefusedAsync(NightHouse house, Guid occurrence, HttpStatusCode status, string why)
    {
        using HttpResponseMessage answer = await house.Keeper.PostAsync(new Uri($"/api/alarms/{occurrence}/answers", UriKind.Relative), null, NightHouse.Stop);
        Assert.Equal((status, "application/problem+json"), (answer.StatusCode, answer.Content.Headers.ContentType?.MediaType));
        Assert.Contains(why, await answer.Content.ReadAsStringAsync(NightHouse.Stop), StringComparison.Ordinal);
    }

    private static string Text(JsonElement element, string name) => element.GetProperty(name).GetString()!;
}
