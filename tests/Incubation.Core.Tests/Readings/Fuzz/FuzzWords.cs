namespace Incubation.Core.Tests.Readings.Fuzz;

/// <summary>What stands in payloads: much of it right, some of it on the edge, some of it nothing at all.</summary>
internal static class FuzzWords
{
    public static readonly string[] Numbers =
    [
        "31.4", "31.4", "30", "31.25", "31.5", "31.0625", "3.14e1", "28.9", "12", "40", "50", "29.75", "86", "55.5", "21", "99", "20.5", "33.3", "-1", "85", "85.0", "-127", "100.5", "105", "0", "-0", "1", "1e1", "1E+1", "112.25",
        "1112.5", "-67", "3.71", "3710", "304.55", "88.52", "400", "1e400", "-1e999", "NaN", "31,4", "+3", ".5", "5.", "00", "\"31\"", "null",
        "1e-300", "9007199254740993", "\u0663",
    ];

    public static readonly string[] Units =
    [
        "\"Cel\"", "\"Cel\"", "\"Cel\"", "\"Cel\"", "\"Cel\"", "\"degF\"", "\"[degF]\"", "\"K\"", "\"Ohm\"", "\"%RH\"", "\"%\"", "\"%EL\"", "\"V\"", "\"mV\"", "\"dBm\"",
        "\"dBW\"", "\"/\"", "\"open\"", "\"closed\"", "\"\"", "null", "7", "\"\\u0043el\"", "\"\\uD83D\"", "\"Reaumur\"", "\"\u00B0C\"",
    ];

    public static readonly string[] Times =
    [
        "\"2026-11-25T03:04:05Z\"", "\"2026-11-25T03:04:05.25+01:00\"", "\"2026-11-20T03:04:05z\"", "\"1970-01-01T00:00:00Z\"",
        "\"9999-12-31T23:59:60Z\"", "\"0001-01-01T00:00:00+23:59\"", "\"\"", "null", "12", "0", "-30", "-2.5", "1795575845", "1795575845.5",
        "1795575845500", "1.795575845e9", "-1e9", "1e300", "\"2026-99-99T99:99:99Z\"", "true", "\"\\u0032026-11-25T03:04:05Z\"",
    ];

    public static readonly string[] States = ["true", "false", "0", "1", "\"open\"", "\"closed\"", "\"OPEN\"", "\"ajar\"", "2", "null", "\"\\u006fpen\""];

    public static readonly string[] Names =
    [
        "temperature", "temperature", "temperature", "humidity", "battery", "signal", "door", "room-temperature", "battery-voltage", "hazel-air:temperature",
        "p7/humidity", "p7.battery", "urn:dev:ow:10e2073a01080063", "urn:dev:mac:0024befffe804ff1_temperature", "Temperature", "co2", "left",
        "", ":", "-x", "a b", "\u00E9", "tempF", "a.very.long.name.that.goes.on.and.on.and.on.for.more.than.eighty.characters.as.no.sensible.name.does:temperature",
    ];

    public static readonly string[] ObjectFields =
    [
        "value", "unit", "at", "temperature", "humidity", "battery", "battery-voltage", "signal", "signal-quality", "door", "room-temperature",
        "tempF", "sensor", "more", "v\\u0061lue", "\\uD83D",
    ];

    public static readonly string[] RecordFields =
        ["n", "u", "v", "vs", "vb", "vd", "s", "t", "ut", "bn", "bt", "bu", "bv", "bs", "bver", "x", "must_", "\\u0076", "longer-name"];

    public static readonly string[] Versions = ["10", "5", "1", "11", "0", "10.5", "\"10\"", "1e1"];

    public static T Pick<T>(Random random, IReadOnlyList<T> from) => from[random.Next(from.Count)];
}
