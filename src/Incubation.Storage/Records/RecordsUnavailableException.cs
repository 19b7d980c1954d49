namespace Incubation.Storage.Records;

/// <summary>The records can't be opened; the message names the cause and the fix.</summary>
public sealed class RecordsUnavailableException : Exception
{
    /// <summary>Creates the error with no words.</summary>
    public RecordsUnavailableException() { }

    /// <summary>Creates the error with the cause and the fix.</summary>
    public RecordsUnavailableException(string message) : base(message) { }

    /// <summary>Creates the error with the cause and the fix, and what the database said.</summary>
    public RecordsUnavailableException(string message, Exception innerException) : base(message, innerException) { }
}
