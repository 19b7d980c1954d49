using System.Text;
using Incubation.Core.Readings;
using NodaTime;
using Xunit;

namespace Incubation.Core.Tests.Readings;

/// <summary>Reads a text as a file that is brought in, on 2027-01-01.</summary>
internal sealed class ImportedText
{
    public static readonly Instant Now = Instant.FromUtc(2027, 1, 1, 0, 0);

    private ImportedText(ImportPlan plan, Func<string, bool> isKnown) => Probes = new ImportProbes(plan, isKnown);

    public List<Reading> Readings { get; } = [];

    public List<ImportRefusal> Refused { get; } = [];

    public ImportProbes Probes { get; }

    public IEnumerable<string> Reasons => Refused.Select(refusal => refusal.Reason);

    /// <summary>As it would be read by its guess, and by what a person changes in that.</summary>
    public static ImportedText Guessed(byte[] file, Func<ImportPlan, ImportPlan>? change = null, string zone = "Etc/UTC", params string[] known)
    {
        ImportPlan plan = Guess(file, zone, known).Plan;
        return Read(file, change?.Invoke(plan) ?? plan, known);
    }

    public static ImportedText Guessed(string text, Func<ImportPlan, ImportPlan>? change = null, string zone = "Etc/UTC", params string[] known)
        => Guessed(Encoding.UTF8.GetBytes(text), change, zone, known);

    public static ImportGuessed Guess(byte[] file, string zone = "Etc/UTC", params string[] known)
        => ImportGuess.Of(file.AsSpan(ImportText.MarkLength(file)), whole: true, zone, known.Contains);

    public static ImportGuessed Guess(string text, string zone = "Etc/UTC", params string[] known) => Guess(Encoding.UTF8.GetBytes(text), zone, known);

    /// <summary>Reads all of it, begun anew at each of the given records, as when it is stopped and gone on with there.</summary>
    public static ImportedText Read(byte[] file, ImportPlan plan, string[] known, params int[] stops)
    {
        ImportedText into = new(plan, known.Contains);
        ImportLines lines = new(plan, new ImportReader(plan, into.Probes, Now, Now), 0, 0);
        int at = 0;
        for (int number = 0; lines.Next(file.AsSpan(at), last: true, into.Readings, into.Refused.Add) is > 0 and int length; number++)
        {
            at += length;
            if (stops.Contains(number) && !lines.HeaderPending)
            {
                Assert.Equal(at, lines.Position);
                lines = new ImportLines(plan, new ImportReader(plan, new ImportProbes(plan, known.Contains), Now, Now), lines.Position, lines.Line);
            }
        }

        Assert.Equal(file.Length, at);
        return into;
    }

    /// <summary>Readings as short texts: series, time, value in the held unit, marks.</summary>
    public string[] Short() => [.. Readings.Select(r => FormattableString.Invariant($"{r.Series} {r.At} {Math.Round(r.Value, 6)} {r.Marks & ~ReadingMarks.Imported}"))];
}
