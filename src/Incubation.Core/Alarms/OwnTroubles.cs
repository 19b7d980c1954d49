namespace Incubation.Core.Alarms;

/// <summary>A trouble of the service itself that people are called for. No egg is in danger by it tonight.</summary>
/// <param name="Kind">Names it for good; no slash.</param>
/// <param name="Line">In a subject: what it is.</param>
/// <param name="Stands">Sentence without its full stop while it holds.</param>
/// <param name="Over">Sentence without its full stop when it is over.</param>
public sealed record OwnTrouble(string Kind, string Line, string Stands, string Over);

/// <summary>Every trouble of the service itself that people are called for, and when it may be said first.</summary>
public static class OwnTroubles
{
    /// <summary>First local hour at which what can wait is raised (common practice, no source: people are up).</summary>
    public const int FromHour = 8;

    /// <summary>First local hour at which it waits for the morning.</summary>
    public const int UntilHour = 21;

    /// <summary>No good backup for too long.</summary>
    public static readonly OwnTrouble Backup =
        new("backup", "no good backup", "There has been no good backup for more than a day and a half", "There is a good backup again");

    /// <summary>The copy off this machine is too old.</summary>
    public static readonly OwnTrouble SecondCopy =
        new("second copy", "no good second copy", "The copy of the backup off this machine is late or failed", "The copy of the backup off this machine is good again");

    /// <summary>The certificate of the web address ends within its time of notice.</summary>
    public static readonly OwnTrouble Certificate =
        new("certificate", "the certificate ends soon", "The certificate that phones trust ends soon and is not renewed", "The certificate that phones trust is good again");

    private static readonly OwnTrouble[] Known = [Backup, SecondCopy, Certificate];

    /// <summary>The alarm about a trouble.</summary>
    /// <param name="kind">One of the kinds here.</param>
    public static AlarmKey KeyOf(string kind) => new("", kind, default, AlarmCondition.OwnTrouble, AlarmSeverity.Warning);

    /// <summary>The trouble of that kind; one that a later version knew keeps its kind for words.</summary>
    public static OwnTrouble Of(string kind)
        => Array.Find(Known, one => one.Kind == kind) ?? new OwnTrouble(kind, kind, $"The service reports: {kind}", $"Over: {kind}");

    /// <summary>Whether what can wait until people are up may be raised now. What stands already goes on standing.</summary>
    /// <param name="localHour">Hour of the day where the facility is, 0 to 23.</param>
    public static bool MayRaise(int localHour) => localHour is >= FromHour and < UntilHour;
}
