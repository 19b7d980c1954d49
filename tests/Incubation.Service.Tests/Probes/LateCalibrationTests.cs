using System.Net;
using System.Net.Http.Json;
using Incubation.Core.Alarms;
using Incubation.Service.Alarms;
using Incubation.Service.Tests.Development;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using Xunit;

namespace Incubation.Service.Tests.Probes;

/// <summary>A calibration that is entered late, in the whole service.</summary>
public sealed class LateCalibrationTests
{
    private static readonly Instant Now = Instant.FromUtc(2026, 6, 20, 12, 0);

    [Fact]
    public async Task Alarms_are_judged_by_it_from_the_next_reading_on_and_never_anew_for_the_past()
    {
        await using EggRoom room = await EggRoom.StartAsync(Now);
        await room.IncubatorAsync("hazel");
        await room.ProbeAsync("hazel-air", "hazel", "air", Now - Duration.FromDays(20));
        IAlarmDesk desk = room.Services.GetRequiredService<IAlarmDesk>();
        await room.ReadAsync("hazel-air", [(Now, 33.0)]);
        StandingAlarm raised = Assert.Single(desk.Standing(), a => a.Key.Condition == AlarmCondition.High);
        Assert.Equal(AlarmState.Unacknowledged, raised.State);

        await CalibrateAsync(room, measured: 1);

        Assert.Equal(raised.State, Standing(desk, raised).State);
        room.Time.Advance(TimeSpan.FromMinutes(1));
        await room.ReadAsync("hazel-air", [(Now + Duration.FromMinutes(1), 33.0)]);
        Assert.Equal(AlarmState.ReturnedUnacknowledged, Standing(desk, raised).State);

        // The other way round: what looked well is not, and that is said at the next reading, not for the weeks before.
        await CalibrateAsync(room, measured: -1);
        Assert.Equal(AlarmState.ReturnedUnacknowledged, Standing(desk, raised).State);
        room.Time.Advance(TimeSpan.FromMinutes(1));
        await room.ReadAsync("hazel-air", [(Now + Duration.FromMinutes(2), 32.0)]);
        Assert.Equal(AlarmState.Unacknowledged, Standing(desk, raised).State);
    }

    [Fact]
    public async Task A_clutchs_forecast_is_made_again()
    {
        await using EggRoom room = await EggRoom.StartAsync(Now);
        await room.IncubatorAsync("hazel");
        await room.TubAsync("tub-1", ("hazel", Now - Duration.FromDays(30)));
        await room.ProbeAsync("hazel-air", "hazel", "tub 1, between eggs", Now - Duration.FromDays(30));
        await room.ClutchAsync("c1", new LocalDate(2026, 5, 31), "tub-1");
        await room.ReadAsync("hazel-air", EggRoom.Every(10, Now - Duration.FromDays(20), Now, 31.5));
        double before = (await room.ForecastAsync("c1")).Stage;

        await CalibrateAsync(room, measured: 1.5);

        Assert.True((await room.ForecastAsync("c1")).Stage < before - 0.01, "a degree and a half less is slower");
    }

    private static StandingAlarm Standing(IAlarmDesk desk, StandingAlarm alarm) => Assert.Single(desk.Standing(), a => a.Occurrence == alarm.Occurrence);

    private static async Task CalibrateAsync(EggRoom room, double measured)
    {
        using HttpResponseMessage answer = await room.Http.PutAsJsonAsync(
            $"/api/probes/hazel-air/calibrations/{Guid.NewGuid()}",
            new { quantity = "temperature", from = "2026-05-30T00:00:00Z", method = "ice bath", points = new[] { new { measured } } },
            TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.Created, answer.StatusCode);
    }
}
