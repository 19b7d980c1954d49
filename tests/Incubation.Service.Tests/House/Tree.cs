using System.Diagnostics;

namespace Incubation.Service.Tests.House;

/// <summary>The repository as git sees it: committed and new files, never what is ignored.</summary>
internal static class Tree
{
    public static string Root { get; } = FindRoot();

    /// <summary>Paths from the root, with forward slashes.</summary>
    public static IReadOnlyList<string> Files { get; } = List();

    public static IEnumerable<string> Ending(params string[] endings)
        => Files.Where(file => endings.Any(ending => file.EndsWith(ending, StringComparison.Ordinal)));

    public static string Read(string file) => File.ReadAllText(Path.Combine(Root, file));

    public static string[] Lines(string file) => File.ReadAllLines(Path.Combine(Root, file));

    /// <summary>Folders directly under one, such as the rooms of a project.</summary>
    public static IReadOnlySet<string> FoldersUnder(string folder)
        => Files.Where(file => file.StartsWith(folder + "/", StringComparison.Ordinal))
            .Select(file => file[(folder.Length + 1)..].Split('/')).Where(parts => parts.Length > 1).Select(parts => parts[0])
            .ToHashSet(StringComparer.Ordinal);

    private static string FindRoot()
    {
        DirectoryInfo? folder = new(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "Incubation.sln")))
        {
            folder = folder.Parent;
        }

        return folder?.FullName ?? throw new InvalidOperationException("No Incubation.sln above the tests.");
    }

    private static string[] List()
    {
        ProcessStartInfo start = new("git", ["-C", Root, "ls-files", "--cached", "--others", "--exclude-standard", "-z"]) { RedirectStandardOutput = true };
        using Process git = Process.Start(start) ?? throw new InvalidOperationException("git did not start.");
        string output = git.StandardOutput.ReadToEnd();
        git.WaitForExit();
        return git.ExitCode == 0
            ? [.. output.Split('\0', StringSplitOptions.RemoveEmptyEntries).Where(file => File.Exists(Path.Combine(Root, file))).Distinct()]
            : throw new InvalidOperationException($"git ended with {git.ExitCode}; the repository tests need a git checkout.");
    }
}
