using System.Globalization;
using System.Text;
using Incubation.Core.Readings;
using NodaTime;

namespace Incubation.Storage.Influx;

/// <summary>
/// Writes the one question that is asked of InfluxDB (https://docs.influxdata.com/influxdb/v1/query_language/explore-data/). A stretch between
/// two calibrations is a statement of its own, on the same grid: a bucket that one of them cuts comes back in parts.
/// </summary>
internal static class InfluxQl
{
    /// <summary>Buckets of good readings: time, count, sum, least, greatest.</summary>
    public static string Buckets(string? policy, SeriesKey series, IEnumerable<Interval> stretches, long originMs, long widthMs)
    {
        string from = policy is null ? Name(PointLine.Measurement) : $"{Name(policy)}.{Name(PointLine.Measurement)}";
        string value = Name(PointLine.Value);
        long offset = (originMs % widthMs + widthMs) % widthMs;
        StringBuilder text = new();
        foreach (Interval stretch in stretches)
        {
            text.Append(CultureInfo.InvariantCulture, $"""
                SELECT count({value}), sum({value}), min({value}), max({value}) FROM {from}
                WHERE "probe" = {Text(PointLine.Tag(series.Probe))} AND "quantity" = {Text(PointLine.Tag(series.Quantity.Name))} AND {Name(PointLine.Good)} = 1
                AND time >= {stretch.Start.ToUnixTimeMilliseconds()}ms AND time < {stretch.End.ToUnixTimeMilliseconds()}ms
                GROUP BY time({widthMs}ms, {offset}ms) fill(none);

                """);
        }

        return text.ToString();
    }

    /// <summary>A name in double quotes.</summary>
    public static string Name(string name) => $"\"{name.Replace("\\", "\\\\", StringComparison.Ordinal).Replace("\"", "\\\"", StringComparison.Ordinal)}\"";

    /// <summary>A text in single quotes.</summary>
    public static string Text(string text) => $"'{text.Replace("\\", "\\\\", StringComparison.Ordinal).Replace("'", "\\'", StringComparison.Ordinal)}'";
}
