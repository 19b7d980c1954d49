using DuckDB.NET.Data;
using Incubation.Core.Readings;

namespace Incubation.Benchmarks.Readings;

/// <summary>DuckDB with the same season: readings in time order, and its own minute rollups of them.</summary>
internal sealed class DuckStore : IDisposable
{
    private readonly DuckDBConnection _connection;
    private readonly string _path;

    public DuckStore(string folder, IEnumerable<Reading> readings)
    {
        _path = Path.Combine(folder, "season.duckdb");
        _connection = new DuckDBConnection($"Data Source={_path}");
        _connection.Open();
        Run("CREATE TABLE reading (probe INTEGER, moment BIGINT, value DOUBLE)");
        Dictionary<SeriesKey, int> ids = [];
        using (DuckDBAppender appender = _connection.CreateAppender("reading"))
        {
            foreach (Reading reading in readings)
            {
                if (!ids.TryGetValue(reading.Series, out int id))
                {
                    ids.Add(reading.Series, id = ids.Count);
                }

                appender.CreateRow().AppendValue(id).AppendValue(reading.At.ToUnixTimeMilliseconds()).AppendValue(reading.Value).EndRow();
            }
        }

        Run("CHECKPOINT");
        ReadingBytes = new FileInfo(_path).Length;
        Run("""
            CREATE TABLE minute AS SELECT probe, moment - moment % 60000 AS start, count(*) AS count, sum(value) AS sum, min(value) AS least, max(value) AS greatest
            FROM reading GROUP BY ALL ORDER BY start, probe
            """);
        Run("CHECKPOINT");
    }

    /// <summary>Bytes of the file while it held the readings alone.</summary>
    public long ReadingBytes { get; }

    /// <summary>Buckets from the minute rollups, for edges on whole minutes.</summary>
    public int FromMinutes(int probe, long from, long to, long width) => Count($"""
        SELECT (start - {from}) // {width} AS bucket, min(least), sum(sum) / sum(count), max(greatest), sum(count)
        FROM minute WHERE probe = {probe} AND start >= {from} AND start < {to} GROUP BY bucket ORDER BY bucket
        """);

    /// <summary>Buckets from all readings.</summary>
    public int FromReadings(int probe, long from, long to, long width) => Count($"""
        SELECT (moment - {from}) // {width} AS bucket, min(value), avg(value), max(value), count(*)
        FROM reading WHERE probe = {probe} AND moment >= {from} AND moment < {to} GROUP BY bucket ORDER BY bucket
        """);

    public void Dispose() => _connection.Dispose();

    private int Count(string sql)
    {
        using DuckDBCommand command = _connection.CreateCommand();
        command.CommandText = sql;
        using DuckDBDataReader rows = command.ExecuteReader();
        int count = 0;
        while (rows.Read())
        {
            count++;
        }

        return count;
    }

    private void Run(string sql)
    {
        using DuckDBCommand command = _connection.CreateCommand();
        command.CommandText = sql;
        command.ExecuteNonQuery();
    }
}
