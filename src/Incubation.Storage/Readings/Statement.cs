using Microsoft.Data.Sqlite;
using SQLitePCL;

namespace Incubation.Storage.Readings;

/// <summary>
/// A prepared statement, bound and stepped without boxing: the writer runs it for every reading. Lives as long as its connection.
/// </summary>
internal sealed class Statement : IDisposable
{
    private readonly sqlite3 _database;
    private readonly sqlite3_stmt _statement;

    public Statement(SqliteConnection connection, string sql)
    {
        _database = connection.Handle!;
        Check(raw.sqlite3_prepare_v2(_database, sql, out _statement));
    }

    /// <summary>Rows that the last insert, update or delete on this connection changed.</summary>
    public int Changes => raw.sqlite3_changes(_database);

    public Statement Bind(int index, long value)
    {
        Check(raw.sqlite3_bind_int64(_statement, index, value));
        return this;
    }

    public Statement Bind(int index, double value)
    {
        Check(raw.sqlite3_bind_double(_statement, index, value));
        return this;
    }

    public Statement Bind(int index, string value)
    {
        Check(raw.sqlite3_bind_text(_statement, index, value));
        return this;
    }

    public Statement Bind(int index, byte[] value)
    {
        Check(raw.sqlite3_bind_blob(_statement, index, value));
        return this;
    }

    /// <summary>Runs it to the end.</summary>
    public void Run()
    {
        int code = raw.sqlite3_step(_statement);
        raw.sqlite3_reset(_statement);
        if (code is not (raw.SQLITE_DONE or raw.SQLITE_ROW))
        {
            Check(code);
        }
    }

    /// <summary>Steps to the first row; the columns hold until <see cref="Done"/>.</summary>
    public bool Row()
    {
        int code = raw.sqlite3_step(_statement);
        if (code == raw.SQLITE_ROW)
        {
            return true;
        }

        raw.sqlite3_reset(_statement);
        if (code != raw.SQLITE_DONE)
        {
            Check(code);
        }

        return false;
    }

    public long Integer(int column) => raw.sqlite3_column_int64(_statement, column);

    public double Real(int column) => raw.sqlite3_column_double(_statement, column);

    public string Text(int column) => raw.sqlite3_column_text(_statement, column).utf8_to_string();

    public byte[] Blob(int column) => raw.sqlite3_column_blob(_statement, column).ToArray();

    public void Done() => raw.sqlite3_reset(_statement);

    public void Dispose() => _statement.Dispose();

    private void Check(int code)
    {
        if (code != raw.SQLITE_OK)
        {
            throw new SqliteException(raw.sqlite3_errmsg(_database).utf8_to_string(), code & 0xFF, code);
        }
    }
}
