namespace Incubation.Service.People;

/// <summary>Names of the authorization policies.</summary>
internal static class Policies
{
    /// <summary>May look. The default of every endpoint.</summary>
    public const string Viewer = "viewer";

    /// <summary>May change records and answer alarms.</summary>
    public const string Keeper = "keeper";

    /// <summary>May change who belongs and how the facility is reached.</summary>
    public const string Owner = "owner";
}
