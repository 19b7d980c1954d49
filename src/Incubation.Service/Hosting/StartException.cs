namespace Incubation.Service.Hosting;

/// <summary>
/// The service can't start for a reason that a person can mend. The message is one line that names the cause and the fix; it is shown
/// without a stack trace, and the exit code is 1.
/// </summary>
internal sealed class StartException : Exception
{
    public StartException() { }

    public StartException(string message) : base(message) { }

    public StartException(string message, Exception? innerException) : base(message, innerException) { }
}
