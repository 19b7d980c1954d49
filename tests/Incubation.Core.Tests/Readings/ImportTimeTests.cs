using System.Text;
using CsCheck;
using Incubation.Core.Readings;
using NodaTime;
using Xunit;

namespace Incubation.Core.Tests.Readings;

/// <summary>Times of files: every form, and the two nights on which clocks change.</summary>
public sealed class ImportTimeTests
{
    private static readonly DateTimeZone Lisbon = DateTimeZoneProviders.Tzdb["Europe/Lisbon"];

    [Theory]
    [InlineData(ImportTimeForm.Rfc3339, "2026-11-25T03:04:05Z", "2026-11-25T03:04:05Z")]
    [InlineData(ImportTimeForm.Rfc3339, "2026-11-25T03:04:05.25+02:00", "2026-11-25T01:04:05.25Z")]
    [InlineData(ImportTimeForm.YearFirst, "2026-07-25 03:04:05", "2026-07-25T02:04:05Z")]
    [InlineData(ImportTimeForm.YearFirst, "2026-07-25T03:04", "2026-07-25T02:04:00Z")]
    [InlineData(ImportTimeForm.YearFirst, "2026/7/5 3:04:05,5", "2026-07-05T02:04:05.5Z")]
    [InlineData(ImportTimeForm.YearFirst, "2026-07-25 03:04:05 +0200", "2026-07-25T01:04:05Z")]
    [InlineData(ImportTimeForm.YearFirst, "2026-07-25 03:04:05Z", "2026-07-25T03:04:05Z")]
    [InlineData(ImportTimeForm.DayFirst, "25.11.2026 03:04", "2026-11-25T03:04:00Z")]
    [InlineData(ImportTimeForm.DayFirst, "5/7/26, 15:04:05", "2026-07-05T14:04:05Z")]
    [InlineData(ImportTimeForm.MonthFirst, "07/05/2026 12:04 AM", "2026-07-04T23:04:00Z")]
    [InlineData(ImportTimeForm.MonthFirst, "7/5/2026 3:04:05 pm", "2026-07-05T14:04:05Z")]
    [InlineData(ImportTimeForm.UnixSeconds, "1795575845", "2026-11-25T03:04:05Z")]
    [InlineData(ImportTimeForm.UnixSeconds, "1795575845.25", "2026-11-25T03:04:05.25Z")]
    [InlineData(ImportTimeForm.UnixMilliseconds, "1795575845250", "2026-11-25T03:04:05.25Z")]
    public void TryRead_every_form_is_read(ImportTimeForm form, string text, string expected)
    {
        Assert.Null(Time(form).TryRead(Encoding.UTF8.GetBytes(text), default, out Instant at));
        Assert.True(Rfc3339.TryParse(Encoding.UTF8.GetBytes(expected), out Instant wanted));
        Assert.Equal(wanted, at);
    }

    [Theory]
    [InlineData(ImportTimeForm.Rfc3339, "2026-11-25 03:04:05", ImportWords.NoOffset)]
    [InlineData(ImportTimeForm.Rfc3339, "25.11.2026 03:04", ImportWords.WrongTime)]
    [InlineData(ImportTimeForm.YearFirst, "", ImportWords.NoTime)]
    [InlineData(ImportTimeForm.YearFirst, "2026-02-29 03:04", ImportWords.WrongTime)]
    [InlineData(ImportTimeForm.YearFirst, "2026-11-25 24:00", ImportWords.WrongTime)]
    [InlineData(ImportTimeForm.YearFirst, "26-11-25 03:04", ImportWords.WrongTime)]
    [InlineData(ImportTimeForm.YearFirst, "2026-11-25x03:04", ImportWords.WrongTime)]
    [InlineData(ImportTimeForm.YearFirst, "2026-11-25 03:04:05 +", ImportWords.WrongTime)]
    [InlineData(ImportTimeForm.DayFirst, "11/25/2026 03:04", ImportWords.WrongTime)]
    [InlineData(ImportTimeForm.MonthFirst, "25/11/2026 03:04", ImportWords.WrongTime)]
    [InlineData(ImportTimeForm.MonthFirst, "11/25/2026 13:04 PM", ImportWords.WrongTime)]
    [InlineData(ImportTimeForm.MonthFirst, "11/25-2026 03:04", ImportWords.WrongTime)]
    [InlineData(ImportTimeForm.UnixSeconds, "-5", ImportWords.WrongTime)]
    [InlineData(ImportTimeForm.UnixSeconds, "99999999999999999999", ImportWords.WrongTime)]
    [InlineData(ImportTimeForm.UnixMilliseconds, "1795575845250 ms", ImportWords.WrongTime)]
    public void TryRead_what_is_no_such_time_is_said(ImportTimeForm form, string text, string reason)
        => Assert.Equal(reason, Time(form).TryRead(Encoding.UTF8.GetBytes(text), default, out _));

    // The European Union's summer time begins and ends at 01:00 UTC on the last Sundays of March and October (Directive 2000/84/EC, articles 2 and 3).
    [Theory]
    [InlineData("2026-03-29 00:59:59", ImportRepeatedHour.Refuse, "2026-03-29T00:59:59Z")]
    [InlineData("2026-03-29 01:00:00", ImportRepeatedHour.Refuse, ImportWords.NeverWas)]
    [InlineData("2026-03-29 01:59:59", ImportRepeatedHour.First, ImportWords.NeverWas)]
    [InlineData("2026-03-29 02:00:00", ImportRepeatedHour.Refuse, "2026-03-29T01:00:00Z")]
    [InlineData("2026-10-25 00:59:59", ImportRepeatedHour.Refuse, "2026-10-24T23:59:59Z")]
    [InlineData("2026-10-25 01:30:00", ImportRepeatedHour.Refuse, ImportWords.CameTwice)]
    [InlineData("2026-10-25 01:30:00", ImportRepeatedHour.First, "2026-10-25T00:30:00Z")]
    [InlineData("2026-10-25 01:30:00", ImportRepeatedHour.Second, "2026-10-25T01:30:00Z")]
    [InlineData("2026-10-25 02:00:00", ImportRepeatedHour.Refuse, "2026-10-25T02:00:00Z")]
    public void TryRead_times_at_a_change_of_the_clocks_are_told_apart(string text, ImportRepeatedHour repeated, string expected)
    {
        string? reason = new ImportTime(ImportTimeForm.YearFirst, Lisbon, repeated).TryRead(Encoding.UTF8.GetBytes(text), default, out Instant at);

        Assert.Equal(expected, reason ?? at.ToString());
    }

    [Fact]
    public void TryRead_date_and_time_of_day_may_stand_in_two_columns()
    {
        Assert.Null(Time(ImportTimeForm.DayFirst).TryRead("25.11.2026"u8, "03:04:05"u8, out Instant at));
        Assert.Equal(Instant.FromUtc(2026, 11, 25, 3, 4, 5), at);
    }

    [Fact]
    public void TryRead_any_moment_written_on_the_facilitys_clocks_comes_back_in_any_order() =>
        Gen.Long[946_684_800, 4_000_000_000].Array[1, 20].Sample(seconds =>
        {
            // One reader for all of them: what it remembers of the zone must never reach over a change of the clocks.
            ImportTime first = new(ImportTimeForm.YearFirst, Lisbon, ImportRepeatedHour.First), second = new(ImportTimeForm.YearFirst, Lisbon, ImportRepeatedHour.Second);
            foreach (long second1970 in seconds)
            {
                Instant truth = Instant.FromUnixTimeSeconds(second1970);
                byte[] text = Encoding.UTF8.GetBytes(truth.InZone(Lisbon).ToString("uuuu-MM-dd HH:mm:ss", System.Globalization.CultureInfo.InvariantCulture));
                Assert.Null(first.TryRead(text, default, out Instant one));
                Assert.Null(second.TryRead(text, default, out Instant two));
                Assert.Contains(truth, new[] { one, two });
            }
        });

    private static ImportTime Time(ImportTimeForm form) => new(form, Lisbon, ImportRepeatedHour.Refuse);
}
