namespace Incubation.Service.Clutches;

/// <summary>What became of evidence that was sent under an id of the sender's.</summary>
internal enum Appending
{
    /// <summary>It is on record now.</summary>
    Added,

    /// <summary>The same was on record already.</summary>
    AlreadyThere,

    /// <summary>Something else is on record under that id; it stays.</summary>
    IdTaken,

    /// <summary>The form says why not.</summary>
    Refused,

    /// <summary>There is no such clutch.</summary>
    NoClutch,
}

/// <param name="What">What became of it.</param>
/// <param name="Form">What there is to say.</param>
internal sealed record Appended(Appending What, EntryForm Form);
