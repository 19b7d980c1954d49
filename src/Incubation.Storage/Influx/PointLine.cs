using System.Globalization;
using System.Text;
using Incubation.Core.Readings;

namespace Incubation.Storage.Influx;

/// <summary>
/// A reading as a line of InfluxDB's line protocol: one measurement, probe and quantity as tags, every field a float, time in milliseconds. A
/// point is its series and time: writing it again changes nothing, and the field's type never does.
/// (https://docs.influxdata.com/influxdb/v2/reference/syntax/line-protocol/)
/// </summary>
internal static class PointLine
{
    /// <summary>The measurement of all readings.</summary>
    public const string Measurement = "reading";

    /// <summary>The value as measured.</summary>
    public const string Value = "value";

    /// <summary>1 for a measurement that counts; 0 for a fault of the probe or a reading of unknown age.</summary>
    public const string Good = "good";

    /// <summary><see cref="ReadingMarks"/> as a number.</summary>
    public const string Marks = "marks";

    public static string Of(in Reading reading)
    {
        StringBuilder line = new(96);
        line.Append(Measurement).Append(",probe=");
        Escape(line, reading.Series.Probe);
        line.Append(",quantity=");
        Escape(line, reading.Series.Quantity.Name);
        return line.Append(CultureInfo.InvariantCulture,
            $" {Value}={reading.Value:R},{Good}={(reading.IsGood ? 1 : 0)},{Marks}={(int)reading.Marks} {reading.At.ToUnixTimeMilliseconds()}").ToString();
    }

    private static void Escape(StringBuilder line, string value)
    {
        foreach (char c in Tag(value))
        {
            _ = c is ',' or '=' or ' ' ? line.Append('\\').Append(c) : line.Append(c);
        }
    }

    /// <summary>
    /// A name as it stands in InfluxDB. A line break ends a line and a backslash may swallow what follows it: neither can be written in a tag,
    /// so they are underscores there.
    /// </summary>
    public static string Tag(string value) => string.Create(value.Length, value, static (into, from) =>
    {
        for (int i = 0; i < from.Length; i++)
        {
            into[i] = from[i] is '\\' or < ' ' ? '_' : from[i];
        }
    });
}
