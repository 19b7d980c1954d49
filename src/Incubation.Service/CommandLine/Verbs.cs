using System.CommandLine;
using Incubation.Service.Hosting;

namespace Incubation.Service.CommandLine;

/// <summary>The verbs of the one program. Exit codes: 0 ok, 1 failed, 2 wrong usage, 70 a worker gave up.</summary>
internal static class Verbs
{
    public static async Task<int> RunAsync(string[] args, TextWriter? output = null, TextWriter? errors = null, CancellationToken stop = default)
    {
        var root = new RootCommand("Watches over incubators, keeps what the probes say, and calls people when one drifts.")
        {
            ServeVerb.Create(),
            DemoVerb.Create(),
            HealthVerb.Create(),
            VersionVerb.Create(),
        };
        ParseResult parsed = root.Parse(args);
        // The host handles Ctrl-C and SIGTERM itself and drains; the parser's own two-second limit would cut that short.
        var invocation = new InvocationConfiguration
        {
            EnableDefaultExceptionHandler = false,
            ProcessTerminationTimeout = null,
            Output = output ?? Console.Out,
            Error = errors ?? Console.Error,
        };
        int code = await parsed.InvokeAsync(invocation, stop);
        return parsed.Errors.Count > 0 ? ExitCodes.WrongUsage : code;
    }
}
