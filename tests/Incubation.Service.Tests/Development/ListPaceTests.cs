using System.Globalization;
using Incubation.Service.Clutches;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using Xunit;

namespace Incubation.Service.Tests.Development;

public sealed class ListPaceTests
{
    [Fact]
    public async Task Listing_clutches_again_takes_a_tenth_of_the_first_look_at_most()
    {
        LocalDate laid = new(2026, 3, 1);
        Instant noon = Instant.FromUtc(2026, 3, 1, 12, 0), now = noon + Duration.FromDays(50);
        await using EggRoom room = await EggRoom.StartAsync(now);
        for (int i = 0; i < 5; i++)
        {
            await room.IncubatorAsync($"box-{i}");
            await room.ProbeAsync($"air-{i}", $"box-{i}", "air", noon - Duration.FromDays(1));
            double celsius = 31 + (i * 0.2);
            await room.ReadAsync($"air-{i}", EggRoom.Every(5, noon, now, at => celsius + (0.3 * Math.Sin((at - noon).TotalHours))));
        }

        for (int i = 0; i < 20; i++)
        {
            await room.TubAsync($"tub-{i}", ($"box-{i % 5}", noon));
            await room.ClutchAsync($"c-{i}", laid, $"tub-{i}");
        }

        double first = await ListAsync(), again = await ListAsync();
        room.Time.Advance(TimeSpan.FromMinutes(6));
        double later = await ListAsync();

        TestContext.Current.TestOutputHelper!.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"20 clutches: first {first:0.0} ms, again {again:0.00} ms, six minutes later {later:0.0} ms"));
        // Measured side by side in one run: what was looked up is kept.
        Assert.True(again < first / 10, $"{again} ms after {first} ms");
        // Put together anew from days that are kept: not the whole history again.
        Assert.True(later < first, $"{later} ms after {first} ms");

        async Task<double> ListAsync()
        {
            IClutchForecast forecasts = room.Services.GetRequiredService<IClutchForecast>();
            long start = TimeProvider.System.GetTimestamp();
            foreach (BookedClutch clutch in room.Services.GetRequiredService<ClutchBook>().Current.Clutches.Values)
            {
                Assert.NotNull(await forecasts.LineAsync(clutch, TestContext.Current.CancellationToken));
            }

            return TimeProvider.System.GetElapsedTime(start).TotalMilliseconds;
        }
    }
}
