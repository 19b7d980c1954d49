using Incubation.Core.Readings;
using Incubation.Service.Demo;
using NodaTime;
using Xunit;

namespace Incubation.Service.Tests.Demo;

public sealed class DemoWeekTests
{
    private static readonly Instant Now = Instant.FromUtc(2026, 11, 25, 21, 30, 7);

    [Fact]
    public void The_week_has_five_minute_steps_of_every_placed_probe_and_none_of_the_one_not_placed()
    {
        var readings = DemoWeek.Simulate(Now, 1).Readings;
        var placed = DemoFacility.Probes.Where(p => p.Where is not null).ToList();
        var series = readings.GroupBy(r => r.Series).ToDictionary(g => g.Key, g => g.Count());
        Assert.Equal(placed.Count + placed.Count(p => p.Spec.Humidity), series.Count);
        Assert.All(series, s => Assert.InRange(s.Value, (int)(7 * 288 * 0.95), (7 * 288) + 1));
        Assert.DoesNotContain(readings, r => r.Series.Probe == DemoFacility.NotYetPlaced);
        Assert.All(readings, r => Assert.InRange(r.At, Now - DemoWeek.Length - Duration.FromSeconds(1), Now));
    }

    [Fact]
    public void The_same_seed_and_time_give_the_same_week()
        => Assert.Equal(DemoWeek.Simulate(Now, 5).Readings, DemoWeek.Simulate(Now, 5).Readings);

    [Fact]
    public void Every_band_is_in_order_and_its_incubator_has_a_probe_of_the_quantity()
        => Assert.All(DemoFacility.Bands, band =>
        {
            double?[] limits = [band.DangerLow, band.WarningLow, band.WarningHigh, band.DangerHigh];
            var set = limits.Where(l => l is not null).ToList();
            Assert.Equal(set.Order(), set);
            Assert.Contains(DemoFacility.Probes, p => p.Where is not null && p.Spec.Cabinet == band.Incubator
                && (band.Quantity == Quantity.Temperature || p.Spec.Humidity));
        });
}
