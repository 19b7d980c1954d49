namespace Incubation.Core.Readings;

/// <summary>What stands between the fields of a file.</summary>
public enum ImportSeparator
{
    /// <summary>A comma, as RFC 4180 has it.</summary>
    Comma,

    /// <summary>A semicolon, as spreadsheets write where the comma is the decimal mark.</summary>
    Semicolon,

    /// <summary>A tab.</summary>
    Tab,
}

/// <summary>How the letters of a file are written.</summary>
public enum ImportEncoding
{
    /// <summary>UTF-8, with or without a byte order mark.</summary>
    Utf8,

    /// <summary>Windows-1252, as older spreadsheets write.</summary>
    Windows1252,
}

/// <summary>How a file writes times.</summary>
public enum ImportTimeForm
{
    /// <summary>RFC 3339 with Z or an offset: <c>2026-11-25T03:04:05Z</c>.</summary>
    Rfc3339,

    /// <summary>The year first: <c>2026-11-25 03:04:05</c>. By the clocks of the facility, unless Z or an offset follows.</summary>
    YearFirst,

    /// <summary>The day first: <c>25.11.2026 03:04</c>, <c>25/11/2026 3:04</c>. By the clocks of the facility.</summary>
    DayFirst,

    /// <summary>The month first: <c>11/25/2026 3:04 AM</c>. By the clocks of the facility.</summary>
    MonthFirst,

    /// <summary>Seconds since 1970-01-01T00:00Z; parts of a second may follow.</summary>
    UnixSeconds,

    /// <summary>Milliseconds since 1970-01-01T00:00Z.</summary>
    UnixMilliseconds,
}

/// <summary>What is made of a local time that came twice, because the clocks were put back.</summary>
public enum ImportRepeatedHour
{
    /// <summary>It is refused: nobody can tell which it was.</summary>
    Refuse,

    /// <summary>It was before the clocks were put back.</summary>
    First,

    /// <summary>It was after that; loggers that never change their clocks are so.</summary>
    Second,
}

/// <summary>What a column of a file holds.</summary>
public enum ImportRole
{
    /// <summary>Nothing that is wanted.</summary>
    Ignore,

    /// <summary>Date and time of day.</summary>
    Time,

    /// <summary>The date alone; another column has the time of day.</summary>
    Date,

    /// <summary>The time of day alone.</summary>
    Clock,

    /// <summary>Which probe the values of the line are of.</summary>
    Probe,

    /// <summary>What was measured.</summary>
    Quantity,

    /// <summary>The unit of the values of the line.</summary>
    Unit,

    /// <summary>A value.</summary>
    Value,

    /// <summary>Marks, as an export of this service writes them.</summary>
    Marks,
}

/// <summary>A column and what it holds. For a value: of which probe, of what and in which unit, where no other column says so.</summary>
/// <param name="Role">What it holds.</param>
/// <param name="Probe">Key of the probe; null when a column says it.</param>
/// <param name="Quantity">Name of the quantity; null when a column says it.</param>
/// <param name="Unit">The unit as people write it; null when a column says it, or when it is the one that values are held in.</param>
public sealed record ImportColumn(ImportRole Role, string? Probe = null, string? Quantity = null, string? Unit = null);

/// <summary>Which probe a name in the file stands for.</summary>
/// <param name="Name">The name in the file.</param>
/// <param name="Key">Key of the probe, which may be a new one; empty when its readings are to be left out.</param>
public sealed record ImportProbe(string Name, string Key);

/// <summary>How a file of readings is to be read. <see cref="ImportPlanCheck"/> says whether it can be.</summary>
/// <param name="Separator">What stands between fields.</param>
/// <param name="DecimalComma">Whether numbers have a decimal comma.</param>
/// <param name="Header">Whether the first record holds the names of the columns.</param>
/// <param name="Encoding">How letters are written.</param>
/// <param name="TimeForm">How times are written; null while nobody has said it and it can't be told.</param>
/// <param name="RepeatedHour">What is made of local times that came twice.</param>
/// <param name="Zone">IANA name of the time zone of local times.</param>
/// <param name="Columns">What each column holds, from the left.</param>
/// <param name="Probes">Which probes the names in the file stand for; a name that is a known probe's key needs no entry.</param>
public sealed record ImportPlan(
    ImportSeparator Separator, bool DecimalComma, bool Header, ImportEncoding Encoding, ImportTimeForm? TimeForm, ImportRepeatedHour RepeatedHour,
    string Zone, IReadOnlyList<ImportColumn> Columns, IReadOnlyList<ImportProbe> Probes)
{
    /// <summary>The separator as it stands in the file.</summary>
    public byte SeparatorByte => Separator switch
    {
        ImportSeparator.Semicolon => (byte)';',
        ImportSeparator.Tab => (byte)'\t',
        _ => (byte)',',
    };

    /// <summary>The separator, number form and column that have this role, from the left.</summary>
    internal int IndexOf(ImportRole role)
    {
        for (int i = 0; i < Columns.Count; i++)
        {
            if (Columns[i].Role == role)
            {
                return i;
            }
        }

        return -1;
    }
}
