using CsCheck;
using Incubation.Core.Development;
using NodaTime;
using Xunit;

namespace Incubation.Core.Tests.Development;

public sealed class RateTests
{
    private static readonly BriereRate Curved = new(1.453e-4, 9.645, 37.6185);

    [Fact]
    public void Sum_of_a_history_split_anywhere_is_the_same() =>
        Gen.Select(Histories.Readings, Gen.Double[0, 1], Gen.Double[8, 40], Gen.Double[20, 40]).Sample((readings, share, zero, cutOff) =>
        {
            Trace trace = Trace.FromReadings(readings, Histories.Bridge);
            Instant from = readings[0].At, until = readings[^1].At;
            Instant cut = from + ((until - from) * share);
            double whole = DegreeDays.Sum(trace, zero, cutOff);
            double parts = DegreeDays.Sum(trace.Between(from, cut), zero, cutOff) + DegreeDays.Sum(trace.Between(cut, until), zero, cutOff);
            Assert.Equal(whole, parts, 1e-9);
            double curve = trace.Pieces.Sum(Curved.Over);
            double curveParts = trace.Between(from, cut).Pieces.Concat(trace.Between(cut, until).Pieces).Sum(Curved.Over);
            Assert.Equal(curve, curveParts, 1e-9);
        });

    [Fact]
    public void Sum_agrees_with_a_fine_sum_of_samples() =>
        Gen.Select(Gen.Double[10, 40], Gen.Double[10, 40], Gen.Double[10, 30], Gen.Double[25, 38]).Sample((a, b, zero, cutOff) =>
        {
            double exact = DegreeDays.Sum(Histories.Line((0, a), (24, b)), zero, cutOff);
            double fine = Enumerable.Range(0, 20_000).Average(i =>
            {
                double value = a + ((b - a) * (i + 0.5) / 20_000);
                return Math.Max(0, Math.Min(value, cutOff) - zero);
            });
            Assert.Equal(fine, exact, 1e-4);
        });

    [Fact]
    public void Sum_never_falls_with_warmth_nor_rises_with_the_threshold() =>
        Gen.Select(Histories.Readings, Gen.Double[0, 3], Gen.Double[10, 35]).Sample((readings, warmer, zero) =>
        {
            Trace trace = Trace.FromReadings(readings, Histories.Bridge);
            Trace warm = Trace.FromReadings(readings.Select(r => r with { Value = r.Value + warmer }), Histories.Bridge);
            double sum = DegreeDays.Sum(trace, zero, 36);
            Assert.True(DegreeDays.Sum(warm, zero, 36) >= sum - 1e-12);
            Assert.True(DegreeDays.Sum(trace, zero + warmer, 36) <= sum + 1e-12);
        });

    [Fact]
    public void Reaches_at_constant_temperature_is_K_over_T_less_T0() =>
        Gen.Select(Gen.Double[8, 20], Gen.Double[300, 1200], Gen.Double[21, 35]).Sample((zero, constant, celsius) =>
        {
            var rate = new LinearRate(zero, constant);
            var curve = new StageCurve(Trace.Constant(Histories.Start, Histories.Start + Duration.FromDays(2000), celsius), rate);
            double days = (curve.Reaches(1)!.Value - Histories.Start).TotalDays;
            Assert.Equal(constant / (celsius - zero), days, 1e-6);
            Assert.Equal(rate.DaysAt(celsius), days, 1e-6);
            Assert.Equal(0.5, curve.At(Histories.Start + Duration.FromDays(days / 2)), 1e-9);
        });

    [Fact]
    public void Reaches_of_a_path_too_cold_or_too_short_is_never()
    {
        var rate = new LinearRate(17, 800);
        Assert.Null(new StageCurve(Trace.Constant(Histories.Start, Histories.Hour(2400), 16), rate).Reaches(1));
        Assert.Null(new StageCurve(Trace.Constant(Histories.Start, Histories.Hour(240), 32), rate).Reaches(1));
        Assert.Equal(double.PositiveInfinity, rate.DaysAt(16));
    }

    [Fact]
    public void Curved_rate_rises_up_to_its_optimum_and_falls_after() =>
        Gen.Select(Gen.Double[0, 1], Gen.Double[0, 1]).Sample((x, y) =>
        {
            (double low, double high) = (Math.Min(x, y), Math.Max(x, y));
            double up = Curved.Optimum - Curved.Zero, down = Curved.Lethal - Curved.Optimum;
            Assert.True(Curved.PerDay(Curved.Zero + (low * up)) <= Curved.PerDay(Curved.Zero + (high * up)) + 1e-15);
            Assert.True(Curved.PerDay(Curved.Optimum + (low * down)) >= Curved.PerDay(Curved.Optimum + (high * down)) - 1e-15);
        });

    [Fact]
    public void Fit_of_an_exact_line_finds_it_again() =>
        Gen.Select(Gen.Double[8, 20], Gen.Double[300, 1200]).Sample((zero, constant) =>
        {
            ZeroFit fit = ZeroFit.Of([.. new[] { 24.0, 27, 30, 33 }.Select(t => new ConstantDuration(t, constant / (t - zero)))]);
            Assert.Equal(zero, fit.Zero, 1e-6);
            Assert.Equal(constant, fit.Constant, 1e-4);
            Assert.Equal(1, fit.RSquared, 1e-9);
        });

    [Fact]
    public void Fit_of_two_temperatures_has_no_error_to_give() => Assert.True(double.IsNaN(ZeroFit.Of([new(28, 70), new(31, 60)]).ZeroError));

    [Fact]
    public void Fit_that_does_not_rise_with_warmth_is_refused()
    {
        Assert.Throws<ArgumentException>(() => ZeroFit.Of([new(28, 60), new(31, 70)]));
        Assert.Throws<ArgumentException>(() => ZeroFit.Of([new(28, 60), new(28, 61)]));
        Assert.Throws<ArgumentException>(() => ZeroFit.Of([new(28, 60), new(30, 0)]));
    }
}
