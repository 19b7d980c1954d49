namespace Incubation.Storage.Influx;

/// <summary>What InfluxDB said to a write.</summary>
/// <param name="Status">HTTP status, or null when it did not answer.</param>
/// <param name="RetryAfter">When it wants to be asked again, if it said so.</param>
/// <param name="Said">Its words, or why there were none.</param>
internal readonly record struct WriteAnswer(int? Status, TimeSpan? RetryAfter, string Said);

/// <summary>What to do with the points of a write.</summary>
internal enum NextMove
{
    /// <summary>They have arrived.</summary>
    Done,

    /// <summary>Send the same again after the pause.</summary>
    Again,

    /// <summary>Send the halves: one of them may be taken.</summary>
    Split,

    /// <summary>Send the halves, and never so many at once again.</summary>
    SplitForGood,

    /// <summary>Set the one point aside with the reason.</summary>
    SetAside,
}

/// <summary>How the copy is doing.</summary>
public enum CopyCondition
{
    /// <summary>What waits goes out.</summary>
    Well,

    /// <summary>InfluxDB is away or busy; it is tried again.</summary>
    Away,

    /// <summary>Somebody has to mend something; it is tried again all the same, seldom.</summary>
    Stopped,
}

/// <summary>The judgement of an answer.</summary>
internal readonly record struct WriteVerdict(NextMove Move, TimeSpan Pause, CopyCondition Condition, string Words);
