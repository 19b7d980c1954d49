using System.Text;
using CsCheck;
using Incubation.Core.Readings;
using Xunit;

namespace Incubation.Core.Tests.Readings;

/// <summary>Records of comma-separated values, good and bad, whole and in pieces.</summary>
public sealed class CsvScannerTests
{
    private const int Longest = 64;

    private static readonly string[] Some = ["", "a", "1.5", "say \"hi\"", "a,b", "two\r\nlines", "\"", " lead", "ä€", "x\ny", ";", "0"];
    private static readonly string[] Bytes = ["\"", ",", "\r", "\n", "a", "\0", "\"\"", "\r\n"];
    private static readonly Gen<string> Cells = Gen.Int[0, Some.Length - 1].Select(i => Some[i]);

    [Theory]
    [InlineData("a,b\r\nc\r\n", "a|b", "c")]
    [InlineData("a,b\nc", "a|b", "c")]
    [InlineData("a\rb\r", "a", "b")]
    [InlineData("a,\r\n,b", "a|", "|b")]
    [InlineData("\"\",\"\"\n", "|")]
    [InlineData("a\"b,c", "a\"b|c")]
    [InlineData("\"a\nb\",c\n\n\nd", "a\nb|c", "blank", "blank", "d")]
    public void Next_records_of_every_kind_of_line_end_are_read(string text, params string[] expected) => Assert.Equal(expected, Read(text, 1000));

    [Theory]
    [InlineData("a,\"b\nc,d\ne,f\n", "NotClosed 1", "c|d", "e|f")]
    [InlineData("a,\"b\nc,\"d\"\ne\n", "AfterQuote 1", "c|d", "e")]
    [InlineData("\"a\"b,c\nd\n", "AfterQuote 1", "d")]
    [InlineData("a,\"b", "NotClosed 1")]
    [InlineData("a\0b\nc\n", "ZeroByte 1", "c")]
    [InlineData("1,2,3,4,5,6\nc\n", "TooManyFields 1", "c")]
    public void Next_a_bad_line_costs_no_other(string text, params string[] expected) => Assert.Equal(expected, Read(text, 1000));

    [Theory]
    [InlineData(10 * 1024 * 1024)]
    [InlineData(Longest)]
    public void Next_a_line_that_is_too_long_is_one_fault_and_the_next_is_read(int length)
        => Assert.Equal(["TooLong 1", "b|c"], Read(new string('x', length) + "\r\nb,c\r\n", 70));

    [Fact]
    public void Next_a_quote_that_is_never_closed_in_a_long_file_costs_its_own_line()
    {
        string rest = string.Concat(Enumerable.Range(0, 100).Select(i => $"{i},x\n"));

        string[] read = Read("a,\"b\n" + rest, 70);

        Assert.Equal(("NotClosed 1", "0|x", "99|x", 101), (read[0], read[1], read[^1], read.Length));
    }

    [Fact]
    public void Next_what_was_written_is_read_whatever_the_cells_and_however_the_bytes_come() =>
        Gen.Select(Cells.Array[1, 4].Array[1, 8], Gen.Int[1, 30]).Sample((rows, piece) =>
        {
            StringBuilder text = new();
            foreach (string[] row in rows)
            {
                for (int i = 0; i < row.Length; i++)
                {
                    text.Append(i > 0 ? "," : "");
                    CsvText.Field(text, row[i]);
                }

                text.Append(CsvText.EndOfRecord);
            }

            string[] expected = [.. rows.Select(row => row is [""] ? "blank" : string.Join('|', row))];
            Assert.Equal(expected, Read(text.ToString(), piece));
        });

    [Fact]
    public void Next_any_bytes_in_any_pieces_use_every_byte_once_and_find_the_same() =>
        Gen.Select(Gen.Int[0, Bytes.Length - 1].Select(i => Bytes[i]).Array[0, 200], Gen.Int[1, 80]).Sample((parts, piece) =>
        {
            string text = string.Concat(parts);
            Assert.Equal(Read(text, int.MaxValue), Read(text, piece));
        });

    // Hands the bytes over a few at a time, as a file that is read into a buffer comes.
    private static string[] Read(string text, int piece)
    {
        byte[] bytes = Encoding.UTF8.GetBytes(text);
        CsvScanner scanner = new((byte)',', 5, Longest);
        List<string> found = [];
        int start = 0, end = 0, used = 0;
        while (true)
        {
            CsvRecord record = scanner.Next(bytes.AsSpan(start, end - start), end == bytes.Length);
            if (record.Found == CsvFound.More && record.Length == 0)
            {
                if (end == bytes.Length)
                {
                    break;
                }

                end = (int)Math.Min(bytes.Length, (long)end + piece);
                continue;
            }

            if (record.Found != CsvFound.More)
            {
                Assert.True(record.Lines >= 1);
                found.Add(record.Found switch
                {
                    CsvFound.Blank => "blank",
                    CsvFound.Fault => $"{record.Fault} {record.Lines}",
                    _ => string.Join('|', Enumerable.Range(0, record.Fields).Select(i => Text(bytes, start, scanner[i]))),
                });
            }

            start += record.Length;
            used += record.Length;
        }

        Assert.Equal(bytes.Length, used);
        return [.. found];
    }

    private static string Text(byte[] bytes, int start, CsvField field)
    {
        Assert.True(ImportText.TryRead(bytes.AsSpan(start + field.Start, field.Length), ImportEncoding.Utf8, field.Doubled, out string text));
        return text;
    }
}
