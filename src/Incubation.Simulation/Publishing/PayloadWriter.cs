using System.Globalization;
using System.Text;
using Incubation.Simulation.Probes;
using NodaTime;
using NodaTime.Text;

namespace Incubation.Simulation.Publishing;

/// <summary>Writes a sample as the probe would.</summary>
public static class PayloadWriter
{
    private static readonly InstantPattern Time = InstantPattern.CreateWithInvariantCulture("uuuu-MM-dd'T'HH:mm:ss.fff'Z'");

    /// <summary>The message's bytes, UTF-8. <paramref name="probeTime"/> is what the probe believes the time to be.</summary>
    public static byte[] Write(in ProbeSample sample, PayloadStyle style, Instant probeTime)
    {
        if (double.IsNaN(sample.Value))
        {
            // What a probe with a loose wire or a firmware fault prints in place of a number.
            return "temp=?? err 3"u8.ToArray();
        }
        var value = sample.Value.ToString("0.####", CultureInfo.InvariantCulture);
        if (style == PayloadStyle.Number)
        {
            return Encoding.UTF8.GetBytes(value);
        }
        var unit = sample.Measured == Measured.Temperature ? "Cel" : "%RH";
        var at = style == PayloadStyle.JsonWithTime ? $",\"at\":\"{Time.Format(probeTime)}\"" : "";
        return Encoding.UTF8.GetBytes($"{{\"value\":{value},\"unit\":\"{unit}\"{at}}}");
    }

    /// <summary>The last part of the topic.</summary>
    public static string QuantityOf(Measured measured) => measured == Measured.Temperature ? "temperature" : "humidity";
}
