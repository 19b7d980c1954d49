using System.Text.Json;

namespace Incubation.Storage.Influx;

/// <summary>One bucket, or the part of it that lies in one stretch.</summary>
internal readonly record struct ArchiveRow(long StartMs, long Count, double Sum, double Least, double Greatest);

/// <summary>
/// Reads the JSON that <c>/query</c> answers with. What is marked as partial, or has an error anywhere, is no answer: half a history that looks
/// whole is worse than none.
/// </summary>
internal static class InfluxQlAnswer
{
    /// <summary>The rows of each statement, in their order.</summary>
    /// <exception cref="FormatException">It is no answer to the question, or no whole one; with what the server said.</exception>
    public static List<List<ArchiveRow>> Read(JsonElement answer, int statements)
    {
        List<List<ArchiveRow>> all = [.. Enumerable.Range(0, statements).Select(_ => new List<ArchiveRow>())];
        try
        {
            Refuse(answer);
            int at = 0;
            foreach (JsonElement result in answer.GetProperty("results").EnumerateArray())
            {
                Refuse(result);
                int statement = result.TryGetProperty("statement_id", out JsonElement id) ? id.GetInt32() : at;
                at++;
                if (result.TryGetProperty("series", out JsonElement series))
                {
                    foreach (JsonElement one in series.EnumerateArray())
                    {
                        Refuse(one);
                        Rows(one, all[statement]);
                    }
                }
            }

            return at == statements ? all : throw new FormatException($"{at} of {statements} parts were answered");
        }
        catch (Exception error) when (error is KeyNotFoundException or InvalidOperationException or ArgumentOutOfRangeException)
        {
            throw new FormatException("it is not the JSON that InfluxDB's /query answers with", error);
        }
    }

    private static void Refuse(JsonElement part)
    {
        if (part.TryGetProperty("error", out JsonElement error))
        {
            throw new FormatException(error.ToString());
        }

        if (part.TryGetProperty("partial", out JsonElement partial) && partial.ValueKind == JsonValueKind.True)
        {
            throw new FormatException("the answer was cut off; raise max-row-limit in InfluxDB's settings");
        }
    }

    private static void Rows(JsonElement series, List<ArchiveRow> rows)
    {
        string[] columns = [.. series.GetProperty("columns").EnumerateArray().Select(column => column.GetString()!)];
        (int time, int count, int sum, int least, int greatest) =
            (Array.IndexOf(columns, "time"), Array.IndexOf(columns, "count"), Array.IndexOf(columns, "sum"), Array.IndexOf(columns, "min"), Array.IndexOf(columns, "max"));
        foreach (JsonElement row in series.GetProperty("values").EnumerateArray())
        {
            if (row[count].ValueKind == JsonValueKind.Number && row[count].GetDouble() > 0)
            {
                rows.Add(new ArchiveRow(row[time].GetInt64(), (long)row[count].GetDouble(), row[sum].GetDouble(), row[least].GetDouble(), row[greatest].GetDouble()));
            }
        }
    }
}
