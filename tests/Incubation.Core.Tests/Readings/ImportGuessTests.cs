using System.Text;
using Incubation.Core.Readings;
using Xunit;

namespace Incubation.Core.Tests.Readings;

/// <summary>What is guessed of a file, and what is asked instead.</summary>
public sealed class ImportGuessTests
{
    [Fact]
    public void Of_an_export_is_known_and_asks_nothing()
    {
        ImportGuessed guess = ImportedText.Guess(CsvReadings.Header + "2026-11-25T03:04:05Z,a,temperature,Cel,31,31.5,\r\n");

        Assert.Empty(guess.Questions);
        Assert.Empty(ImportPlanCheck.Problems(guess.Plan));
        Assert.Equal(
            [ImportRole.Time, ImportRole.Probe, ImportRole.Quantity, ImportRole.Unit, ImportRole.Value, ImportRole.Ignore, ImportRole.Marks],
            guess.Plan.Columns.Select(column => column.Role));
        Assert.Equal((ImportTimeForm.Rfc3339, true, false), (guess.Plan.TimeForm, guess.Plan.Header, guess.Plan.DecimalComma));
    }

    [Theory]
    [InlineData("t;v\n25.11.2026 03:04;31,4\n", ImportSeparator.Semicolon, true, ImportTimeForm.DayFirst)]
    [InlineData("t,v\n2026-11-25 03:04:05,31.4\n", ImportSeparator.Comma, false, ImportTimeForm.YearFirst)]
    [InlineData("t,v\n2026-11-25 03:04:05,\"31,4\"\n", ImportSeparator.Comma, true, ImportTimeForm.YearFirst)]
    [InlineData("t\tv\n1795575845\t31.4\n", ImportSeparator.Tab, false, ImportTimeForm.UnixSeconds)]
    [InlineData("1795575845250,31.4\n1795575846250,31\n", ImportSeparator.Comma, false, ImportTimeForm.UnixMilliseconds)]
    [InlineData("t,v\n11/25/2026 3:04 AM,31.4\n1/2/2026 3:04 AM,31\n", ImportSeparator.Comma, false, ImportTimeForm.MonthFirst)]
    [InlineData("t,v\n25/11/2026 3:04,31.4\n1/2/2026 3:04,31\n", ImportSeparator.Comma, false, ImportTimeForm.DayFirst)]
    public void Of_separator_decimal_mark_and_time_are_told(string text, ImportSeparator separator, bool comma, ImportTimeForm form)
    {
        ImportGuessed guess = ImportedText.Guess(text);

        Assert.Equal((separator, comma, form), (guess.Plan.Separator, guess.Plan.DecimalComma, guess.Plan.TimeForm));
        Assert.Equal([ImportRole.Time, ImportRole.Value], guess.Plan.Columns.Select(column => column.Role));
    }

    [Theory]
    [InlineData("t,v\n1/2/2026 3:04,31\n3/4/2026 3:04,31\n")]
    [InlineData("t,v\n13/2/2026 3:04,31\n3/14/2026 3:04,31\n")]
    public void Of_day_and_month_that_fit_both_ways_are_asked_for(string text)
    {
        ImportGuessed guess = ImportedText.Guess(text);

        Assert.Null(guess.Plan.TimeForm);
        Assert.Contains(guess.Questions, question => question.Contains("day come first", StringComparison.Ordinal));
        Assert.Contains("timeForm", ImportPlanCheck.Problems(guess.Plan).Keys);
    }

    [Fact]
    public void Of_columns_for_each_quantity_or_probe_are_values_of_that()
    {
        ImportGuessed guess = ImportedText.Guess(
            "No.,Time,Room temp °C,RH [%],shelf-1,Note\n1,2026-11-25 03:04:05,21,40,31.4,\n2,2026-11-25 03:04:15,21,40,31.5,opened\n", known: ["shelf-1"]);

        Assert.Equal(
            [
                new(ImportRole.Ignore), new(ImportRole.Time), new(ImportRole.Value, null, "room-temperature", "°C"), new(ImportRole.Value, null, "humidity", "%"),
                new(ImportRole.Value, "shelf-1", null, null), new ImportColumn(ImportRole.Ignore),
            ],
            guess.Plan.Columns);
        Assert.Equal(3, guess.Questions.Count);
    }

    [Fact]
    public void Of_words_that_come_again_on_every_line_are_names_of_probes_and_notes_are_not()
    {
        string text = "Zeit;Fühler;Wert °C;Notiz\n" + string.Concat(Enumerable.Range(0, 20).Select(i => $"2026-11-25 03:{i:00};Regal {i % 2};31,4;{(i == 3 ? "auf" : "")}\n"));

        Assert.Equal(
            [ImportRole.Time, ImportRole.Probe, ImportRole.Value, ImportRole.Ignore], ImportedText.Guess(text).Plan.Columns.Select(column => column.Role));
    }

    [Fact]
    public void Of_what_cannot_be_told_is_asked()
    {
        ImportGuessed guess = ImportedText.Guess("a,b\nx,y\n");

        Assert.Equal(["Which column holds the time, and how is it written?", "Which column holds values?"], guess.Questions);
    }

    [Fact]
    public void Of_200_columns_are_taken_and_300_are_no_record()
    {
        string Wide(int columns) => string.Concat(Enumerable.Range(0, 3).Select(row =>
            string.Join(',', Enumerable.Range(0, columns).Select(i => row == 0 ? $"c{i}" : i == 0 ? "2026-11-25 03:04:05" : "31.4")) + "\n"));

        Assert.Equal(200, ImportedText.Guess(Wide(200)).Plan.Columns.Count);
        Assert.Empty(ImportedText.Guess(Wide(300)).Plan.Columns);
    }

    [Theory]
    [InlineData(new byte[0], "empty")]
    [InlineData(new byte[] { 0xFF, 0xFE, 0x61, 0 }, "UTF-16")]
    [InlineData(new byte[] { 0x50, 0x4B, 3, 4, 9, 9 }, "workbook")]
    [InlineData(new byte[] { 0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A, 0, 0, 0, 13 }, "no text")]
    public void Refusal_what_is_no_text_is_said(byte[] start, string word)
        => Assert.Contains(word, ImportText.Refusal(start), StringComparison.Ordinal);

    [Fact]
    public void Refusal_a_text_with_a_zero_byte_somewhere_is_a_text()
        => Assert.Null(ImportText.Refusal([.. Encoding.UTF8.GetBytes(new string('a', 200)), 0]));

    [Fact]
    public void Start_of_a_line_is_one_short_line_without_controls()
        => Assert.Equal("a\tb c", ImportText.Start("a\tb\0c\r\n"u8, ImportEncoding.Utf8));
}
