using Incubation.Core.Readings;
using NodaTime;

namespace Incubation.Storage.Readings;

/// <summary>A reading that waits to be copied.</summary>
/// <param name="Id">Grows with every entry.</param>
/// <param name="Series">Number of the series in the file.</param>
/// <param name="Reading">The reading as measured.</param>
public readonly record struct CopyRow(long Id, long Series, Reading Reading);

/// <summary>A day of one series that is to be copied whole.</summary>
/// <param name="Series">Number of the series in the file.</param>
/// <param name="Key">The series.</param>
/// <param name="StartMs">Start of the day, Unix milliseconds.</param>
/// <param name="Changes">Its state: another number once something was added.</param>
public readonly record struct CopyDay(long Series, SeriesKey Key, long StartMs, long Changes);

/// <summary>A reading that the other side did not take.</summary>
/// <param name="Series">Number of the series in the file.</param>
/// <param name="Reading">The reading as measured.</param>
/// <param name="Reason">What the other side said.</param>
public readonly record struct CopyRefusal(long Series, Reading Reading, string Reason);

/// <summary>A reading that was set aside.</summary>
/// <param name="Reading">The reading as measured.</param>
/// <param name="Reason">What the other side said.</param>
/// <param name="At">When it was refused.</param>
public readonly record struct RefusedCopy(Reading Reading, string Reason, Instant At);

/// <summary>A row of <c>copy_refused</c>.</summary>
internal readonly record struct RefusedRow(long Series, long At, double Value, int Marks, string Reason, long RefusedAt);

/// <summary>What the next transaction writes down besides the readings. Every act may be repeated.</summary>
internal sealed class CopyActs
{
    public List<RefusedRow> Refused { get; } = [];

    public HashSet<CopyDay> Done { get; } = [];

    public HashSet<CopyDay> Held { get; } = [];

    public void Join(CopyActs other)
    {
        Refused.InsertRange(0, other.Refused);
        Done.UnionWith(other.Done);
        Held.UnionWith(other.Held);
    }
}
