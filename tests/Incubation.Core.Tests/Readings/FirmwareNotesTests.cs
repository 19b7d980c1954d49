using Incubation.Core.Readings;
using Xunit;

namespace Incubation.Core.Tests.Readings;

/// <summary>Every payload in the firmware notes is read here, so that the notes can't drift from the service.</summary>
public sealed class FirmwareNotesTests
{
    public static TheoryData<string, string, string> Payloads()
    {
        TheoryData<string, string, string> data = [];
        string[] lines = File.ReadAllLines(Notes());
        for (int i = 0; i < lines.Length; i++)
        {
            if (lines[i].StartsWith("```payload", StringComparison.Ordinal))
            {
                string[] kind = lines[i][3..].Split(' ');
                data.Add(kind[0], kind[1], string.Join('\n', lines.Skip(i + 1).TakeWhile(l => l != "```")));
            }
        }

        return data;
    }

    [Theory]
    [MemberData(nameof(Payloads))]
    public void Read_payload_of_the_notes_is_read_or_rejected_as_they_say(string kind, string quantity, string payload)
    {
        PayloadResult result = Heard.Read(payload, new Quantity(quantity));

        Assert.Contains(kind, new[] { "payload", "payload-rejected" });
        Assert.Equal(kind == "payload-rejected", result.Rejection is not null);
        Assert.All(result.Readings.ToArray(), r => Assert.Equal(ReadingMarks.None, r.Marks & (ReadingMarks.Faulty | ReadingMarks.ClockOff)));
    }

    [Fact]
    public void Notes_have_examples_of_both_kinds() =>
        Assert.True(Payloads().Count(d => d.Data.Item1 == "payload") >= 5 && Payloads().Any(d => d.Data.Item1 == "payload-rejected"));

    private static string Notes() => Path.Combine(Folder(), "README.md");

    internal static string Folder()
    {
        DirectoryInfo? folder = new(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "Incubation.sln")))
        {
            folder = folder.Parent;
        }

        return Path.Combine(folder!.FullName, "firmware-notes");
    }
}
