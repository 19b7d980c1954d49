using System.Globalization;

namespace Incubation.Storage.Influx;

/// <summary>What a person is told about the copy.</summary>
internal static class CopyWords
{
    public static string Of(CopyCondition condition, string said, long waiting, int days, int held, int refused, bool full)
    {
        List<string> words = [condition == CopyCondition.Well ? Progress(waiting, days) : $"{said} {Progress(waiting, days)}"];
        if (full)
        {
            words.Add("So much waits that new readings are no longer listed one by one: their days are copied whole, from the readings kept here. Nothing is left out.");
        }

        if (refused > 0)
        {
            words.Add(Text($"{refused} {(refused == 1 ? "reading was" : "readings were")} refused by InfluxDB and set aside; they are tried again when the service is next started."));
        }
        else if (held > 0)
        {
            words.Add("Days with refused readings are tried again when the service is next started.");
        }

        return string.Join(' ', words);
    }

    private static string Progress(long waiting, int days) => (waiting, days) switch
    {
        (0, 0) => "Everything is copied.",
        (_, 0) => Text($"{waiting} {(waiting == 1 ? "reading waits" : "readings wait")} to be copied."),
        _ => Text($"{waiting} new readings and {days} {(days == 1 ? "day" : "days")} of earlier ones wait to be copied."),
    };

    private static string Text(FormattableString words) => words.ToString(CultureInfo.InvariantCulture);
}
