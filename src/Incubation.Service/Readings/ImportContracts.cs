using Incubation.Core.Readings;
using NodaTime;

namespace Incubation.Service.Readings;

/// <summary>How a file is to be read, as it stands in a request; what is left out stays as usual.</summary>
internal sealed record ImportPlanRequest(
    ImportSeparator Separator, bool DecimalComma, bool Header, ImportEncoding Encoding, ImportTimeForm? TimeForm, ImportRepeatedHour RepeatedHour,
    string? Zone, IReadOnlyList<ImportColumn?>? Columns, IReadOnlyList<ImportProbeRequest?>? Probes);

/// <summary>Which probe a name in the file stands for; an empty key leaves its readings out.</summary>
internal sealed record ImportProbeRequest(string? Name, string? Key);

/// <summary>What came of reading a file, for a trial or in earnest.</summary>
/// <param name="State"><c>running</c>, <c>stopped</c>, <c>done</c> or <c>failed</c>.</param>
/// <param name="Words">Why it stopped or failed, or what it waits for; else empty.</param>
/// <param name="DoneBytes">Bytes of the file that are done.</param>
/// <param name="Lines">Lines that are done.</param>
/// <param name="Taken">Readings taken.</param>
/// <param name="Refused">Lines and values refused.</param>
/// <param name="Earliest">Time of the earliest reading taken.</param>
/// <param name="Latest">Time of the latest.</param>
/// <param name="Reasons">Why lines were refused, the commonest first.</param>
/// <param name="First">The first refused lines.</param>
/// <param name="Probes">Names of probes in what was read since it last began, and which probes they are.</param>
/// <param name="ReportBytes">Length of the report that belongs to this.</param>
internal sealed record ImportOutcome(
    string State, string Words, long DoneBytes, long Lines, long Taken, long Refused, Instant? Earliest, Instant? Latest,
    IReadOnlyList<ImportReason> Reasons, IReadOnlyList<ImportRefusal> First, IReadOnlyList<ImportProbeCount> Probes, long ReportBytes);

/// <summary>What is kept of an import beside its columns.</summary>
/// <param name="Confirmed">Whether a person has looked the columns over.</param>
/// <param name="DryRun">What came of the trial with these columns, or null.</param>
/// <param name="Run">What came of it in earnest, or null.</param>
internal sealed record ImportProgress(bool Confirmed, ImportOutcome? DryRun, ImportOutcome? Run);

/// <summary>An import in a list.</summary>
internal sealed record ImportLine(
    Guid Id, string FileName, string State, long Bytes, long DoneBytes, long Taken, long Refused, string By, Instant StartedAt, Instant? EndedAt, bool FileIsHere);

/// <summary>An import with all that is known of it.</summary>
/// <param name="Id">Its id.</param>
/// <param name="FileName">What the file was called.</param>
/// <param name="State"><c>waiting</c>, <c>running</c>, <c>stopped</c>, <c>done</c> or <c>failed</c>; a trial changes it to <c>running</c> only while it runs.</param>
/// <param name="Running"><c>dry run</c> or <c>run</c> while one of them runs.</param>
/// <param name="Bytes">Size of the file.</param>
/// <param name="Digest">SHA-256 of the file, hex.</param>
/// <param name="FileIsHere">Whether the file still lies on the disk.</param>
/// <param name="Confirmed">Whether a person has looked the columns over.</param>
/// <param name="Guess">How the file is to be read; a guess until confirmed.</param>
/// <param name="Columns">Names of the columns.</param>
/// <param name="Sample">The first lines.</param>
/// <param name="Questions">What is still to be said.</param>
/// <param name="DryRun">What came of the trial.</param>
/// <param name="Run">What came of it in earnest.</param>
/// <param name="LinesPerSecond">Speed of what runs.</param>
/// <param name="SecondsLeft">What is left of it at that speed.</param>
/// <param name="SameAs">When the same file was brought in before; null when it never was.</param>
/// <param name="By">Who sent it.</param>
/// <param name="StartedAt">When it was sent.</param>
/// <param name="EndedAt">When it was done.</param>
internal sealed record ImportView(
    Guid Id, string FileName, string State, string? Running, long Bytes, string Digest, bool FileIsHere, bool Confirmed, ImportPlan Guess,
    IReadOnlyList<string> Columns, IReadOnlyList<IReadOnlyList<string>> Sample, IReadOnlyList<string> Questions, ImportOutcome? DryRun, ImportOutcome? Run,
    double? LinesPerSecond, double? SecondsLeft, Instant? SameAs, string By, Instant StartedAt, Instant? EndedAt);
