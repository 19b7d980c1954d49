using Incubation.EndToEnd.Tests.Instruments;

namespace Incubation.Benchmarks.Readings;

/// <summary>The service as it is shipped: a Release build, compiled ahead of its start (ReadyToRun), in a folder of its own.</summary>
internal static class PublishedProgram
{
    /// <summary>Publishes it and returns the path of the program.</summary>
    public static async Task<string> MakeAsync(string folder, CancellationToken stop)
    {
        string into = Path.Combine(folder, "published");
        await Tool.RunAsync("dotnet", stop, "publish", Path.Combine(House.Root, "src", "Incubation.Service"), "-c", "Release", "-r", "linux-x64", "--self-contained", "false",
            "-p:PublishReadyToRun=true", "-p:SkipDashboards=true", "-nodeReuse:false", "-o", into, "--artifacts-path", Path.Combine(folder, "artifacts"));
        return Path.Combine(into, "incubation.dll");
    }
}
