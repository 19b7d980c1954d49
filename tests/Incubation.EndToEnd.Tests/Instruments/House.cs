namespace Incubation.EndToEnd.Tests.Instruments;

/// <summary>Where things lie in the repository that this test was built from.</summary>
internal static class House
{
    public static string Root { get; } = FindRoot(AppContext.BaseDirectory);

    /// <summary>The built program: INCUBATION_PROGRAM, or the output of Incubation.Service in this test's own configuration.</summary>
    public static string Program { get; } = Environment.GetEnvironmentVariable("INCUBATION_PROGRAM") is { Length: > 0 } given
        ? given
        : Path.Combine(Root, "src", "Incubation.Service", "bin", Configuration, "net10.0", "incubation.dll");

    /// <summary>Folder for screenshots and logs; not committed.</summary>
    public static string Output { get; } = Directory.CreateDirectory(Path.Combine(Root, "tests", "output")).FullName;

    private static string Configuration
        => AppContext.BaseDirectory.Contains($"{Path.DirectorySeparatorChar}Release{Path.DirectorySeparatorChar}", StringComparison.Ordinal) ? "Release" : "Debug";

    private static string FindRoot(string from)
    {
        DirectoryInfo? folder = new(from);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "Incubation.sln")))
        {
            folder = folder.Parent;
        }

        return folder?.FullName ?? throw new InvalidOperationException($"No Incubation.sln above {from}.");
    }
}
