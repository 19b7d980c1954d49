using System.Globalization;
using System.Text;
using Incubation.Core;
using Incubation.Core.Readings;

namespace Incubation.Service.Readings;

/// <summary>
/// The report of an import: a record for each line or value that was refused, as far as <see cref="Limits.ImportReportLines"/>. It can be gone on
/// with at any length that was told: what was written after that is dropped.
/// </summary>
internal sealed class ImportReportFile : IDisposable
{
    private const string Header = "line,column,reason,begins" + CsvText.EndOfRecord;

    private readonly FileStream _file;
    private readonly StringBuilder _text = new();
    private long _lines;

    /// <param name="path">Where it lies.</param>
    /// <param name="length">Its length when it was last told; 0 to begin anew.</param>
    /// <param name="lines">Lines that it has by then.</param>
    public ImportReportFile(string path, long length, long lines)
    {
        _file = new FileStream(path, FileMode.OpenOrCreate, FileAccess.Write, FileShare.Read);
        // After a power cut it may be shorter than was told: nothing is made up for what is missing.
        _file.SetLength(Math.Min(length, _file.Length));
        _file.Seek(0, SeekOrigin.End);
        _lines = Math.Min(lines, Limits.ImportReportLines);
        Length = _file.Length;
        if (_file.Length == 0)
        {
            Write(Header);
        }
    }

    /// <summary>Its length with all that was added.</summary>
    public long Length { get; private set; }

    public void Add(ImportRefusal refusal)
    {
        if (_lines >= Limits.ImportReportLines)
        {
            return;
        }

        _lines++;
        _text.Append(CultureInfo.InvariantCulture, $"{refusal.Line},");
        if (refusal.Column > 0)
        {
            _text.Append(CultureInfo.InvariantCulture, $"{refusal.Column}");
        }

        _text.Append(',');
        CsvText.Field(_text, refusal.Reason);
        _text.Append(',');
        CsvText.Foreign(_text, refusal.Text);
        _text.Append(CsvText.EndOfRecord);
        Write(_text.ToString());
        _text.Clear();
    }

    /// <summary>Hands what was added to the system.</summary>
    public void Flush() => _file.Flush();

    public void Dispose() => _file.Dispose();

    private void Write(string text)
    {
        _file.Write(Encoding.UTF8.GetBytes(text));
        Length = _file.Position;
    }
}
