using System.Text;
using Incubation.Core.Readings;
using Incubation.Reference.Tests.Sources;
using Xunit;

namespace Incubation.Reference.Tests.Readings;

/// <summary>What is written as comma-separated values, against the standard.</summary>
public sealed class PublishedCsvTests
{
    [Theory]
    [InlineData("plain,1\r\n", "rule 1: CR LF ends a record", "plain", "1")]
    [InlineData("\"say \"\"hi\"\"\",\r\n", "rule 7: a quote inside is doubled; an empty last field stays", "say \"hi\"", "")]
    [InlineData(" lead,trail \r\n", "rule 4: blanks are part of a field", " lead", "trail ")]
    [InlineData("aaa,\"b\r\nbb\",ccc\r\n", "rule 6: a line break is in quotes", "aaa", "b\r\nbb", "ccc")]
    [InlineData("\"a,b\",\"\"\"\"\r\n", "rules 6 and 7", "a,b", "\"")]
    [Source("Shafranovich, Y.", 2005, "RFC 4180: Common Format and MIME Type for Comma-Separated Values (CSV) Files", "section 2, rules 1 and 4 to 7",
        Remark = "first three records worked out by another program (Python's csv)")]
    public void Field_record_is_written_as_the_standard_says(string expected, string rule, params string[] fields)
    {
        StringBuilder to = new();
        foreach (string field in fields)
        {
            CsvText.Field(to, field);
            to.Append(',');
        }

        to.Length--;
        to.Append(CsvText.EndOfRecord);

        Assert.True(expected == to.ToString(), $"{rule}: {to}");
    }

    [Theory]
    [InlineData("rule 1: each record on a line of its own", "aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", "aaa|bbb|ccc", "zzz|yyy|xxx")]
    [InlineData("rule 2: the last record may end without a line break", "aaa,bbb,ccc\r\nzzz,yyy,xxx", "aaa|bbb|ccc", "zzz|yyy|xxx")]
    [InlineData("rule 3: a header has as many fields", "field_name,field_name,field_name\r\naaa,bbb,ccc\r\n", "field_name|field_name|field_name", "aaa|bbb|ccc")]
    [InlineData("rule 4: fields between commas", "aaa,bbb,ccc", "aaa|bbb|ccc")]
    [InlineData("rule 5: fields may be in quotes or not", "\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx", "aaa|bbb|ccc", "zzz|yyy|xxx")]
    [InlineData("rule 6: a line break in quotes", "\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx", "aaa|b\r\nbb|ccc", "zzz|yyy|xxx")]
    [InlineData("rule 7: a quote inside is doubled", "\"aaa\",\"b\"\"bb\",\"ccc\"", "aaa|b\"bb|ccc")]
    [Source("Shafranovich, Y.", 2005, "RFC 4180: Common Format and MIME Type for Comma-Separated Values (CSV) Files", "section 2, the examples of rules 1 to 7")]
    public void Next_examples_of_the_standard_are_read(string rule, string text, params string[] expected)
    {
        ReadOnlySpan<byte> rest = Encoding.UTF8.GetBytes(text);
        CsvScanner scanner = new((byte)',', 10, 1000);
        List<string> read = [];
        while (!rest.IsEmpty)
        {
            CsvRecord record = scanner.Next(rest, last: true);
            List<string> fields = [];
            for (int i = 0; i < record.Fields; i++)
            {
                ImportText.TryRead(rest.Slice(scanner[i].Start, scanner[i].Length), ImportEncoding.Utf8, scanner[i].Doubled, out string field);
                fields.Add(field);
            }

            read.Add(string.Join('|', fields));
            rest = rest[record.Length..];
        }

        Assert.True(expected.SequenceEqual(read), $"{rule}: {string.Join(" / ", read)}");
    }
}
