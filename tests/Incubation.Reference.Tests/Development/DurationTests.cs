using Incubation.Core.Development;
using Incubation.Reference.Tests.Sources;
using NodaTime;
using Xunit;

namespace Incubation.Reference.Tests.Development;

public sealed class DurationTests
{
    private static readonly Instant Laid = Instant.FromUtc(2026, 6, 1, 12, 0);

    private static ZeroFit Fit(IEnumerable<Published> series) => ZeroFit.Of([.. series.Select(point => point.Duration)]);

    [Fact]
    [Source("Lang, J. W., Andrews, H. and Whitaker, R.", 1989, "Sex determination and sex ratios in Crocodylus palustris", "Table B",
        Remark = "T0, K and their errors recomputed by ordinary least squares")]
    public void Mugger_crocodiles_have_a_zero_of_19_26_and_fit_within_one_published_deviation()
    {
        ZeroFit fit = Fit(PublishedDurations.Mugger);

        Assert.Equal(19.26, fit.Zero, 0.02);
        Assert.Equal(861.8, fit.Constant, 1.0);
        Assert.Equal(0.9969, fit.RSquared, 0.0001);
        Assert.Equal(0.21, fit.ZeroError, 0.01);
        Assert.Equal(16.1, fit.ConstantError, 0.2);
        Assert.All(PublishedDurations.Mugger, point =>
            Assert.True(Math.Abs(fit.Rate.DaysAt(point.Celsius) - point.Days) <= point.Sd, $"{point}: {fit.Rate.DaysAt(point.Celsius)}"));
    }

    [Fact]
    [Source("Mrosovsky, N., Kamel, S., Rees, A. F. and Margaritoulis, D.", 2002, "Pivotal temperature for loggerhead turtles (Caretta caretta)",
        "Table 1", Remark = "T0, K and their errors recomputed by ordinary least squares")]
    public void Loggerheads_have_a_zero_of_18_07()
    {
        ZeroFit fit = Fit(PublishedDurations.Loggerhead);

        Assert.Equal(18.07, fit.Zero, 0.02);
        Assert.Equal(594.3, fit.Constant, 1.0);
        Assert.Equal(0.9944, fit.RSquared, 0.0001);
        Assert.Equal(0.31, fit.ZeroError, 0.01);
        Assert.Equal(17, fit.ConstantError, 0.5);
    }

    [Fact]
    [Source("Ji, X. and Du, W.-G.", 2001, "Comp. Biochem. Physiol. A 129:461 (Elaphe carinata)", "Table 1, 24 to 32 °C at −220 kPa",
        Remark = "T0 and K recomputed by ordinary least squares, with and without the plateau at 32 °C")]
    public void King_ratsnakes_show_what_the_hot_plateau_does_to_a_fit()
    {
        ZeroFit all = ZeroFit.Of(DevelopmentProfiles.KingRatsnake);
        ZeroFit line = ZeroFit.Of([.. DevelopmentProfiles.KingRatsnake.Take(3)]);

        Assert.Equal((12.90, 786.7), (all.Zero, all.Constant), Within(0.01, 0.5));
        Assert.Equal((14.71, 674.1), (line.Zero, line.Constant), Within(0.01, 0.5));
        Assert.Equal(1.2, line.ZeroError, 0.05);
        Assert.Equal(64, line.ConstantError, 1.0);
    }

    [Fact]
    [Source("Ji, X. and Du, W.-G.", 2001, "Comp. Biochem. Physiol. A 129:461 (Elaphe carinata)", "Table 1, 24 to 32 °C at −220 kPa")]
    public void King_ratsnakes_are_forecast_at_every_published_temperature_with_the_mean_inside_the_window()
    {
        DevelopmentProfile profile = DevelopmentProfiles.Find("elaphe-carinata")!;
        foreach (ConstantDuration published in DevelopmentProfiles.KingRatsnake)
        {
            HatchForecast forecast = HatchForecast.Of(new(
                profile, Laid, 0, Trace.Constant(Laid, Laid + Duration.FromDays(20), published.Celsius), Laid + Duration.FromDays(20)));
            Instant pip = Laid + Duration.FromDays(published.Days);
            Assert.True(forecast.P10 <= pip && pip <= forecast.P90, $"{published}: {forecast.P10} to {forecast.P90}");
            Assert.Equal(published.Days, (forecast.Central!.Value - Laid).TotalDays, 2.0);
        }
    }

    [Fact]
    [Source("Lang, J. W., Andrews, H. and Whitaker, R.", 1989, "Sex determination and sex ratios in Crocodylus palustris", "Table B")]
    public void Mugger_crocodiles_fitted_at_three_temperatures_forecast_the_other_eight()
    {
        double[] fitted = [28, 30.5, 33];
        ZeroFit fit = Fit(PublishedDurations.Mugger.Where(point => fitted.Contains(point.Celsius)));
        Published[] others = [.. PublishedDurations.Mugger.Where(point => !fitted.Contains(point.Celsius))];

        Assert.Equal(8, others.Length);
        Assert.All(others, point => Assert.Equal(point.Days, fit.Rate.DaysAt(point.Celsius), 1.2));
    }

    [Theory]
    [Source("Lang, J. W., Andrews, H. and Whitaker, R.", 1989, "Sex determination and sex ratios in Crocodylus palustris", "Table B")]
    [Source("Mrosovsky, N., Kamel, S., Rees, A. F. and Margaritoulis, D.", 2002, "Pivotal temperature for loggerhead turtles (Caretta caretta)", "Table 1")]
    [InlineData("mugger", 1.75)]
    [InlineData("loggerhead", 1.28)]
    public void Every_temperature_is_forecast_from_the_others_within_three_per_cent(string species, double largestDays)
    {
        IReadOnlyList<Published> series = species == "mugger" ? PublishedDurations.Mugger : PublishedDurations.Loggerhead;
        double worst = 0;
        foreach (Published left in series)
        {
            DevelopmentProfile profile = DevelopmentProfile.FromFit(species, Fit(series.Where(point => point != left)), 1, left.Sd, null, "see the test");
            HatchForecast forecast = HatchForecast.Of(new(
                profile, Laid, 0, Trace.Constant(Laid, Laid + Duration.FromDays(30), left.Celsius), Laid + Duration.FromDays(30)));
            double error = Math.Abs((forecast.Central!.Value - Laid).TotalDays - left.Days);
            worst = Math.Max(worst, error);
            Assert.True(error <= 0.03 * left.Days, $"{left}: off by {error:0.00} d");
            Instant pip = Laid + Duration.FromDays(left.Days);
            Assert.True(forecast.P10 <= pip && pip <= forecast.P90, $"{left}: {forecast.P10} to {forecast.P90}");
        }

        Assert.Equal(largestDays, worst, 0.02);
    }

    [Fact]
    [Source("Lang, J. W., Andrews, H. and Whitaker, R.", 1989, "Sex determination and sex ratios in Crocodylus palustris", "Table B",
        Remark = "forty days at 30 °C, the rest at 32 °C: derived from the fit")]
    public void A_change_of_temperature_half_way_is_carried_through()
    {
        var curve = new StageCurve(
            Trace.Of([new(Laid, 30, Laid + Duration.FromDays(40), 30), new(Laid + Duration.FromDays(40), 32, Laid + Duration.FromDays(200), 32)]),
            Fit(PublishedDurations.Mugger).Rate);

        Assert.Equal(0.499, curve.At(Laid + Duration.FromDays(40)), 0.001);
        Assert.Equal(73.9, (curve.Reaches(1)!.Value - Laid).TotalDays, 0.1);
    }

    [Fact]
    [Source("Georges, A., Limpus, C. and Stoutjesdijk, R.", 1994, "Hatchling sex in the marine turtle Caretta caretta is determined by proportion of "
        + "development at a temperature, not daily duration of exposure", "durations of 26 °C with swings of 0 to 8 °C: 80.6, 80.2, 80.2, 80.5 d")]
    public void The_same_mean_with_a_wider_swing_takes_the_same_time()
    {
        double Days(double swing)
        {
            Trace path = Trace.FromReadings(
                Enumerable.Range(0, 24 * 200).Select(hour => new TracePoint(
                    Laid + Duration.FromHours(hour), 26 + (swing * Math.Sin(2 * Math.PI * hour / 24)))), Duration.FromHours(2));
            return (new StageCurve(path, new LinearRate(18, 80.6 * 8)).Reaches(1)!.Value - Laid).TotalDays;
        }

        Assert.All(new[] { 0.0, 3, 4, 5, 6, 7, 8 }, swing => Assert.Equal(80.6, Days(swing), 80.6 * 0.005));
    }

    [Theory]
    [Source("Aghdam, H. R. et al.", 2009, "Temperature-dependent development of the codling moth, eggs", "parameters of the Briere models",
        Remark = "rates computed from the published parameters by the formula of Briere et al. 1999")]
    [InlineData(2, 1.453e-4, 9.645, 37.6185, new[] { .055507, .126308, .198134, .244902, .208652 })]
    [InlineData(4.0547, 2.634e-4, 7.9722, 34.444, new[] { .057727, .122417, .195081, .251459 })]
    public void Curved_rates_are_those_of_the_published_parameters(double m, double a, double zero, double lethal, double[] rates)
    {
        var rate = new BriereRate(a, zero, lethal, m);
        for (int i = 0; i < rates.Length; i++)
        {
            Assert.Equal(rates[i], rate.PerDay(15 + (5 * i)), 1e-6);
        }

        if (m == 2)
        {
            Assert.Equal(31.235, rate.Optimum, 0.005);
        }
    }

    [Theory]
    [NoSource(NoSourceAttribute.CommonPractice, Remark = "ball pythons: 55 to 60 days at 31.1 to 33.3 °C on breeders' pages; about 65 days at 30 °C")]
    [InlineData(31.1, 55, 66)]
    [InlineData(32.2, 52, 62)]
    [InlineData(30, 58, 75)]
    public void Ball_pythons_are_forecast_where_breeders_expect_them(double celsius, double from, double to)
    {
        HatchForecast forecast = HatchForecast.Of(new(
            DevelopmentProfiles.Find("python-regius")!, Laid, 0, Trace.Constant(Laid, Laid + Duration.FromDays(30), celsius), Laid + Duration.FromDays(30)));

        Assert.InRange((forecast.P50!.Value - Laid).TotalDays, from, to);
        Assert.Equal(Evidence.CommonPractice, forecast.Profile.Evidence);
    }

    private static Comparer Within(double first, double second) => new(first, second);

    private sealed class Comparer(double first, double second) : IEqualityComparer<(double, double)>
    {
        public bool Equals((double, double) x, (double, double) y) =>
            Math.Abs(x.Item1 - y.Item1) <= first && Math.Abs(x.Item2 - y.Item2) <= second;

        public int GetHashCode((double, double) obj) => 0;
    }
}
