using Incubation.Core.Readings;
using Incubation.Reference.Tests.Sources;
using Xunit;

namespace Incubation.Reference.Tests.Calibration;

/// <summary>Known points that probes are compared with.</summary>
public sealed class FixedPointTests
{
    [Theory]
    [InlineData("LiCl", 0, 11.23)]
    [InlineData("LiCl", 10, 11.29)]
    [InlineData("LiCl", 20, 11.31)]
    [InlineData("LiCl", 30, 11.28)]
    [InlineData("LiCl", 40, 11.21)]
    [InlineData("LiCl", 50, 11.1)]
    [InlineData("MgCl2", 5, 33.6)]
    [InlineData("MgCl2", 15, 33.3)]
    [InlineData("MgCl2", 25, 32.78)]
    [InlineData("MgCl2", 35, 32.05)]
    [InlineData("MgCl2", 45, 31.1)]
    [InlineData("Mg(NO3)2", 0, 60.35)]
    [InlineData("Mg(NO3)2", 10, 57.36)]
    [InlineData("Mg(NO3)2", 20, 54.38)]
    [InlineData("Mg(NO3)2", 30, 51.4)]
    [InlineData("Mg(NO3)2", 40, 48.42)]
    [InlineData("Mg(NO3)2", 50, 45.44)]
    [InlineData("NaCl", 5, 75.65)]
    [InlineData("NaCl", 15, 75.61)]
    [InlineData("NaCl", 25, 75.29)]
    [InlineData("NaCl", 35, 74.87)]
    [InlineData("NaCl", 45, 74.52)]
    [InlineData("KCl", 0, 88.61)]
    [InlineData("KCl", 10, 86.77)]
    [InlineData("KCl", 20, 85.11)]
    [InlineData("KCl", 30, 83.62)]
    [InlineData("KCl", 40, 82.32)]
    [InlineData("KCl", 50, 81.2)]
    [InlineData("K2SO4", 5, 98.48)]
    [InlineData("K2SO4", 15, 97.89)]
    [InlineData("K2SO4", 25, 97.3)]
    [InlineData("K2SO4", 35, 96.71)]
    [InlineData("K2SO4", 45, 96.12)]
    [Source("Greenspan, L.", 1977, "Humidity fixed points of binary saturated aqueous solutions, J. Res. NBS 81A:89-96", "table of the six salts, 0 to 50 °C",
        Remark = "table from memory; it is its polynomials cut to two decimals")]
    public void Humidity_over_a_salt_is_the_tables(string salt, double celsius, double humidity)
        => Assert.Equal(humidity, CalibrationSalt.Find(salt)!.HumidityAt(celsius), 0.02);

    [Theory]
    [InlineData("LiCl", 20, 11.25)]
    [InlineData("MgCl2", 25, 32.79)]
    [InlineData("NaCl", 25, 75.25)]
    [InlineData("KCl", 30, 83.43)]
    [InlineData("K2SO4", 25, 97.23)]
    [Source("Wexler, A.", 1994, "CRC Handbook of Chemistry and Physics", "constant humidity solutions", Remark = "edition from memory; magnesium nitrate is left out: the two publications differ by 0.8 %RH there")]
    public void Humidity_over_a_salt_agrees_with_another_publication_within_its_uncertainty(string salt, double celsius, double humidity)
    {
        CalibrationSalt found = CalibrationSalt.Find(salt)!;
        Assert.Equal(humidity, found.HumidityAt(celsius), found.Uncertainty);
    }

    [Fact]
    [Source("Preston-Thomas, H.", 1990, "The International Temperature Scale of 1990 (ITS-90)", "the triple point of water is 0.01 °C; melting ice lies 0.0100 K below", Remark = "from memory")]
    public void Melting_ice_is_at_zero() => Assert.Equal(0.01 - 0.0100, CalibrationWords.IcePoint, 1e-12);

    [Fact]
    [Source("Preston-Thomas, H.", 1990, "The International Temperature Scale of 1990 (ITS-90)", "melting point of gallium, 29.7646 °C", Remark = "from memory")]
    public void A_probe_that_reads_both_fixed_points_wrongly_is_put_right_between_them()
    {
        var entry = new CalibrationEntry(
            Guid.NewGuid(), new SeriesKey("p", Quantity.Temperature), default, CalibrationMethod.IceBath,
            [new CalibrationPoint(0.20, CalibrationWords.IcePoint), new CalibrationPoint(30.2646, 29.7646)], null, "", null, "Ada", default);
        Correction correction = CalibrationLog.Empty.With(entry).CorrectionOf(entry.Series);

        Assert.Equal(0, correction.Apply(entry.From, 0.20), 1e-9);
        Assert.Equal(29.7646, correction.Apply(entry.From, 30.2646), 1e-9);
        Assert.Equal(29.7646 / 2, correction.Apply(entry.From, (0.20 + 30.2646) / 2), 1e-9);
    }
}
