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
}
