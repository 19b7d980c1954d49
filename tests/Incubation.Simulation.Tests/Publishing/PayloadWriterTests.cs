using System.Text;
using CsCheck;
using Incubation.Simulation.Probes;
using Incubation.Simulation.Publishing;
using NodaTime;
using Xunit;

namespace Incubation.Simulation.Tests.Publishing;

public sealed class PayloadWriterTests
{
    private static readonly Instant At = Instant.FromUtc(2026, 11, 25, 3, 4, 5);

    [Theory]
    [InlineData(PayloadStyle.Number, Measured.Temperature, "31.4375")]
    [InlineData(PayloadStyle.Json, Measured.Temperature, """{"value":31.4375,"unit":"Cel"}""")]
    [InlineData(PayloadStyle.JsonWithTime, Measured.Humidity, """{"value":31.4375,"unit":"%RH","at":"2026-11-25T03:04:05.000Z"}""")]
    public void Write_follows_the_contract(PayloadStyle style, Measured measured, string expected)
        => Assert.Equal(expected, Encoding.UTF8.GetString(PayloadWriter.Write(new ProbeSample(0, measured, 31.4375, 0, 0), style, At)));

    [Fact]
    public void Write_of_an_unreadable_sample_is_no_number()
        => Assert.False(double.TryParse(
            Encoding.UTF8.GetString(PayloadWriter.Write(new ProbeSample(0, Measured.Temperature, double.NaN, 0, 0), PayloadStyle.Number, At)),
            System.Globalization.CultureInfo.InvariantCulture, out _));

    [Fact]
    public void BackOff_stays_within_its_bounds_and_starts_afresh_after_success()
        => Gen.ULong.Sample(seed =>
        {
            var backOff = new BackOff(seed, TimeSpan.FromMilliseconds(250), TimeSpan.FromSeconds(15));
            Assert.InRange(backOff.Failed().TotalMilliseconds, 125, 250);
            for (var i = 0; i < 100; i++)
            {
                Assert.InRange(backOff.Failed().TotalMilliseconds, 250, 15_000);
            }
            backOff.Worked();
            Assert.InRange(backOff.Failed().TotalMilliseconds, 125, 250);
        });
}
