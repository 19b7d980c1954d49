using System.Text;
using CsCheck;
using Incubation.Core.Readings;
using NodaTime;
using Xunit;

namespace Incubation.Core.Tests.Readings;

/// <summary>What is made of the lines of a file: each is taken or refused with a reason.</summary>
public sealed class ImportReaderTests
{
    private const string Long = "time,probe,quantity,unit,value\n";

    private static readonly string[] Keys = ["shelf-2", "=sum", "a,b", "say \"x\"", "ä", "-cold", "plain"];

    private static readonly Gen<Reading> Exported = Gen.Select(
        Gen.Int[0, Keys.Length - 1], Gen.Int[0, 3], Gen.Double[-39, 79], Gen.Long[1_600_000_000_000, 1_798_000_000_000], Gen.Int[0, 31]).Select((key, what, value, ms, marks) =>
        {
            Quantity quantity = what switch { 0 => Quantity.Temperature, 1 => Quantity.Door, 2 => new Quantity("co2"), _ => Quantity.Humidity };
            double held = what switch { 0 => value, 1 => marks % 2, 2 => value * 100, _ => Math.Abs(value) };
            Instant at = Instant.FromUnixTimeMilliseconds(ms);
            // A saturated value and one that a probe sends for no measurement are told by the value itself.
            return new Reading(new SeriesKey(Keys[key], quantity), held, at, at, (ReadingMarks)marks);
        });

    [Fact]
    public void Read_what_an_export_wrote_is_the_same_readings_again() =>
        Exported.Array[1, 30].Sample(readings =>
        {
            StringBuilder text = new(CsvReadings.Header);
            Correction correction = new([new(Instant.FromUtc(2020, 1, 1, 0, 0), 1.01, 0.3)]);
            foreach (Reading reading in readings)
            {
                CsvReadings.Append(text, reading, correction);
            }

            ImportedText read = ImportedText.Guessed(text.ToString(), known: Keys);

            Assert.Empty(read.Refused);
            Assert.Equal(
                readings.Select(r => r with { ArrivedAt = ImportedText.Now, Marks = r.Marks | ReadingMarks.Imported }),
                read.Readings);
        });

    [Fact]
    public void Read_stopped_and_gone_on_with_anywhere_is_the_same() =>
        Gen.Select(Gen.Int[0, 9].Array[1, 40], Gen.Int[0, 45].Array[0, 5]).Sample((lines, stops) =>
        {
            StringBuilder text = new(Long);
            for (int i = 0; i < lines.Length; i++)
            {
                string time = Instant.FromUnixTimeSeconds(1_790_000_000 + i).ToString();
                text.Append(lines[i] switch
                {
                    0 => "\n",
                    1 => $"{time},a,temperature,Cel,\"3\n",
                    2 => $"{time},a,temperature,Cel,85\n",
                    3 => $"{time},\"b\nc\",temperature,Cel,31\n",
                    4 => "\"\n",
                    5 => $"{time},a,temperature,Cel\n",
                    _ => $"{time},a,temperature,Cel,31.{i}\n",
                });
            }

            byte[] file = Encoding.UTF8.GetBytes(text.ToString());
            ImportPlan plan = ImportedText.Guess(Long + "2026-11-25T03:04:05Z,a,temperature,Cel,31\n").Plan;
            ImportedText whole = ImportedText.Read(file, plan, ["a"]), parts = ImportedText.Read(file, plan, ["a"], stops);

            Assert.Equal(whole.Short(), parts.Short());
            Assert.Equal(whole.Refused, parts.Refused);
            // An empty line is neither; every other one is taken or refused.
            Assert.True(whole.Readings.Count + whole.Refused.Count >= lines.Count(line => line is not (0 or 3)));
        });

    [Theory]
    [InlineData("Cel", "31.4", 31.4)]
    [InlineData("°C", "31.4", 31.4)]
    [InlineData("°F", "88.52", 31.4)]
    [InlineData("[degF]", "88.52", 31.4)]
    [InlineData("K", "304.55", 31.4)]
    [InlineData("", "31.4", 31.4)]
    public void Read_units_become_the_one_that_is_held(string unit, string value, double held)
        => Assert.Equal([FormattableString.Invariant($"a/temperature 2026-11-25T03:04:05Z {held} None")],
            ImportedText.Guessed(Long + $"2026-11-25T03:04:05Z,a,temperature,{unit},{value}\n", plan => plan with
            {
                Columns = [new(ImportRole.Time), new(ImportRole.Probe), new(ImportRole.Quantity), new(ImportRole.Unit), new(ImportRole.Value)],
            }, known: ["a"]).Short());

    [Theory]
    [InlineData("2026-11-25T03:04:05Z,a,temperature,Cel", ImportWords.FieldCount)]
    [InlineData("2026-11-25T03:04:05Z,a,temperature,Cel,31,4", ImportWords.FieldCount)]
    [InlineData("2026-11-25T03:04:05Z,a,temperature,Cel,warm", ImportWords.NotNumber)]
    [InlineData("2026-11-25T03:04:05Z,a,temperature,Cel,\"31,4\"", ImportWords.NotNumber)]
    [InlineData("2026-11-25T03:04:05Z,a,temperature,Cel,NaN", ImportWords.NotNumber)]
    [InlineData("2026-11-25T03:04:05Z,a,temperature,Cel,1e999", ImportWords.NotNumber)]
    [InlineData("2026-11-25T03:04:05Z,a,temperature,Cel,", ImportWords.NoValue)]
    [InlineData("2026-11-25T03:04:05Z,,temperature,Cel,31", ImportWords.NoProbe)]
    [InlineData("2026-11-25T03:04:05Z,nobody,temperature,Cel,31", ImportWords.UnknownProbe)]
    [InlineData("2026-11-25T03:04:05Z,a,warmth!,Cel,31", ImportWords.NoQuantity)]
    [InlineData("soon,a,temperature,Cel,31", ImportWords.WrongTime)]
    [InlineData("2027-01-01T00:00:01Z,a,temperature,Cel,31", ImportWords.Future)]
    [InlineData("1999-12-31T23:59:59Z,a,temperature,Cel,31", ImportWords.LongAgo)]
    public void Read_a_line_that_is_not_taken_says_why_and_the_next_is_taken(string line, string reason)
    {
        ImportedText read = ImportedText.Guessed(
            Long + "2026-11-25T03:04:04Z,a,temperature,Cel,31\n" + line + "\n2026-11-25T03:04:06Z,a,temperature,Cel,31\n", LongPlan, known: ["a"]);

        ImportRefusal refusal = Assert.Single(read.Refused);
        Assert.Equal((reason, 3, 2), (refusal.Reason, refusal.Line, read.Readings.Count));
        Assert.StartsWith(line[..5], refusal.Text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("temperature", "-127", ReadingMarks.Faulty)]
    [InlineData("temperature", "85", ReadingMarks.Faulty)]
    [InlineData("humidity", "101", ReadingMarks.Saturated)]
    [InlineData("humidity", "99", ReadingMarks.None)]
    public void Read_what_a_probe_sends_for_no_measurement_is_marked(string quantity, string value, ReadingMarks marks)
        => Assert.Equal(marks | ReadingMarks.Imported,
            Assert.Single(ImportedText.Guessed(Long + $"2026-11-25T03:04:05Z,a,{quantity},,{value}\n", LongPlan, known: ["a"]).Readings).Marks);

    [Fact]
    public void Read_a_column_for_each_quantity_gives_a_reading_for_each_and_an_empty_cell_gives_none()
    {
        ImportedText read = ImportedText.Guessed(
            "Date,Time,Temp (°F),Humidity %RH\n11/25/2026,3:04:05 AM,88.52,86\n11/25/2026,3:04:15 AM,,86.5\n11/25/2026,3:04:25 AM,500,\n11/25/2026,3:04:35 AM,,\n",
            plan => plan with { Columns = [.. plan.Columns.Select(column => column.Role == ImportRole.Value ? column with { Probe = "a" } : column)] });

        Assert.Equal(
            ["a/temperature 2026-11-25T03:04:05Z 31.4 None", "a/humidity 2026-11-25T03:04:05Z 86 None", "a/humidity 2026-11-25T03:04:15Z 86.5 None"], read.Short());
        Assert.Equal([(4, 3), (5, 0)], read.Refused.Select(refusal => (refusal.Line, refusal.Column)));
        Assert.Equal(ImportWords.NoValue, read.Refused[1].Reason);
    }

    [Fact]
    public void Read_names_stand_for_the_probes_that_a_person_says()
    {
        ImportedText read = ImportedText.Guessed(
            Long + "2026-11-25T03:04:05Z,Logger 7,temperature,Cel,31\n2026-11-25T03:04:05Z,old,temperature,Cel,31\n2026-11-25T03:04:05Z,a,temperature,Cel,32\n",
            plan => LongPlan(plan) with { Probes = [new("Logger 7", "shelf-2"), new("old", "")] }, known: ["a"]);

        Assert.Equal(["shelf-2/temperature 2026-11-25T03:04:05Z 31 None", "a/temperature 2026-11-25T03:04:05Z 32 None"], read.Short());
        Assert.Equal([ImportWords.LeftOut], read.Reasons);
        Assert.Equal([new("Logger 7", "shelf-2", 1), new("old", null, 1), new("a", "a", 1)], read.Probes.Counts);
    }

    [Fact]
    public void Read_letters_of_Windows_1252_and_a_mark_of_UTF_8_are_understood()
    {
        byte[] old = [.. Encoding.UTF8.GetBytes(Long + "2026-11-25T03:04:05Z,K"), 0xE4, .. "fig,temperature,Cel,31\n"u8];
        byte[] marked = [0xEF, 0xBB, 0xBF, .. Encoding.UTF8.GetBytes(Long + "2026-11-25T03:04:05Z,Käfig,temperature,Cel,31\n")];

        Assert.Equal("Käfig", Assert.Single(ImportedText.Guessed(old, LongPlan, known: ["Käfig"]).Readings).Series.Probe);
        Assert.Equal("Käfig", Assert.Single(ImportedText.Guessed(marked, LongPlan, known: ["Käfig"]).Readings).Series.Probe);
        Assert.Equal([ImportWords.WrongLetters], ImportedText.Guessed(old, plan => LongPlan(plan) with { Encoding = ImportEncoding.Utf8 }, known: ["Käfig"]).Reasons);
    }

    [Fact]
    public void Read_a_note_of_several_lines_is_part_of_its_line_whether_taken_or_not()
    {
        ImportedText read = ImportedText.Guessed(
            "time,probe,quantity,value,note\n2026-11-25T03:04:05Z,a,temperature,31,\"lid\nopen\"\n2026-11-25T03:04:06Z,b,temperature,31,\"lid\nshut\"\n2026-11-25T03:04:07Z,a,temperature,32,\n",
            plan => plan with { Columns = [new(ImportRole.Time), new(ImportRole.Probe), new(ImportRole.Quantity), new(ImportRole.Value), new(ImportRole.Ignore)] }, known: ["a"]);

        Assert.Equal([31.0, 32.0], read.Readings.Select(reading => reading.Value));
        Assert.Equal((ImportWords.UnknownProbe, 4), (Assert.Single(read.Refused).Reason, read.Refused[0].Line));
    }

    [Fact]
    public void Read_half_the_lines_wrong_takes_the_other_half()
    {
        string text = Long + string.Concat(Enumerable.Range(0, 1000).Select(i =>
            $"{Instant.FromUnixTimeSeconds(1_790_000_000 + i)},a,temperature,Cel,{(i % 2 == 0 ? "31.4" : "\"broken")}\n"));

        ImportedText read = ImportedText.Guessed(text, LongPlan, known: ["a"]);

        Assert.Equal((500, 500), (read.Readings.Count, read.Refused.Count));
    }

    private static ImportPlan LongPlan(ImportPlan plan) => plan with
    {
        TimeForm = ImportTimeForm.Rfc3339,
        DecimalComma = false,
        Columns = [new(ImportRole.Time), new(ImportRole.Probe), new(ImportRole.Quantity), new(ImportRole.Unit), new(ImportRole.Value)],
    };
}
