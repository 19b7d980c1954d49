using System.CommandLine;
using System.Reflection;

namespace Incubation.Service.CommandLine;

/// <summary><c>incubation version</c>.</summary>
internal static class VersionVerb
{
    public static string Version { get; } =
        typeof(VersionVerb).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion ?? "unknown";

    public static Command Create()
    {
        var verb = new Command("version", "Says which version this is.");
        verb.SetAction(parsed => parsed.InvocationConfiguration.Output.WriteLine(Version));
        return verb;
    }
}
