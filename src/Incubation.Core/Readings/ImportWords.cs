using System.Globalization;

namespace Incubation.Core.Readings;

/// <summary>
/// Why a line of a file, or a value in it, is not taken: the cause and the fix. They hold nothing of the line, so that equal faults can be counted.
/// </summary>
public static class ImportWords
{
    /// <summary>A quote that is not closed.</summary>
    public const string NotClosed = "A quote is opened on this line and never closed. Close it, or double a quote that is meant as one.";

    /// <summary>Something behind a closing quote.</summary>
    public const string AfterQuote = "Something stands between a closing quote and the next separator. Double a quote that is meant as one.";

    /// <summary>A zero byte.</summary>
    public const string ZeroByte = "There is a zero byte in the line, so it is no text. Was the logger switched off while it wrote?";

    /// <summary>More or fewer fields than columns.</summary>
    public const string FieldCount = "The line has another number of fields than there are columns. Is a decimal comma not in quotes?";

    /// <summary>No time.</summary>
    public const string NoTime = "There is no time on this line.";

    /// <summary>A time in another form.</summary>
    public const string WrongTime = "The time is not in the form that was said, or there is no such day or hour.";

    /// <summary>RFC 3339 without an offset.</summary>
    public const string NoOffset = "The time has no Z or offset. Say that times are by the clocks of the facility, if they are.";

    /// <summary>A local time that never was.</summary>
    public const string NeverWas = "The clocks were put forward over this time: it never was. Did the logger's clock stay behind? Then say its own zone.";

    /// <summary>A local time that came twice.</summary>
    public const string CameTwice = "The clocks were put back, and this time came twice. Say whether the first or the second is meant.";

    /// <summary>A time in the future.</summary>
    public const string Future = "The time lies in the future. Check the logger's clock, and which of day and month comes first.";

    /// <summary>A time before 2000.</summary>
    public const string LongAgo = "The time lies before the year 2000. Loggers without a battery wake up there; check its clock.";

    /// <summary>An empty value.</summary>
    public const string NoValue = "There is no value on this line.";

    /// <summary>A value that is no number.</summary>
    public const string NotNumber = "The value is no number. Check which column holds values, and the decimal mark.";

    /// <summary>An empty probe.</summary>
    public const string NoProbe = "The line does not say which probe it is of.";

    /// <summary>A probe that nobody knows.</summary>
    public const string UnknownProbe = "No probe of this name is known. Say which probe it is, a new one or one that is there.";

    /// <summary>A probe that is left out on purpose.</summary>
    public const string LeftOut = "Left out, as was said for this name.";

    /// <summary>A quantity that is no name.</summary>
    public const string NoQuantity = "The line does not say what was measured by a name such as temperature or humidity.";

    /// <summary>A mark that is none of ours.</summary>
    public const string UnknownMark = "The marks hold a word that is none. Leave the column out, if it is no export of this service.";

    /// <summary>Letters that are not in the encoding.</summary>
    public const string WrongLetters = "A name on this line is not UTF-8. Say that letters are Windows-1252, if an older spreadsheet wrote the file.";

    /// <summary>More probes or quantities than can be.</summary>
    public const string TooManyNames = "There are more different names in the file than a facility has probes. Check which column holds the probe.";

    /// <summary>More quantities than a probe has.</summary>
    public const string TooManyQuantities = "The probe has more quantities than a probe can have. Check which column says what was measured.";

    /// <summary>A line that is too long.</summary>
    public static readonly string TooLong = string.Create(CultureInfo.InvariantCulture,
        $"The line has more than {Limits.ImportLineBytes} bytes. Is a quote opened and never closed, or is this no file of lines?");

    /// <summary>Too many fields.</summary>
    public static readonly string TooManyFields = string.Create(CultureInfo.InvariantCulture,
        $"The line has more than {Limits.ImportColumns} fields. Take out the columns that are not wanted.");

    /// <summary>The words for a line that is no record.</summary>
    public static string Of(CsvFault fault) => fault switch
    {
        CsvFault.NotClosed => NotClosed,
        CsvFault.AfterQuote => AfterQuote,
        CsvFault.ZeroByte => ZeroByte,
        CsvFault.TooManyFields => TooManyFields,
        _ => TooLong,
    };
}
