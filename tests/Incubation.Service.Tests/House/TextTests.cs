using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Xunit;

namespace Incubation.Service.Tests.House;

/// <summary>Links resolve, no path of somebody's machine or host of a registry stands in the tree, and every limit is used.</summary>
public sealed partial class TextTests
{
    [Fact]
    public void Every_link_in_the_notes_resolves()
    {
        string[] broken =
        [
            .. from file in Tree.Ending(".md")
               from Match link in Link().Matches(CodeBlock().Replace(Tree.Read(file), ""))
               let target = link.Groups[1].Value.Split('#')[0]
               where target.Length > 0 && !target.Contains("://", StringComparison.Ordinal) && !target.StartsWith("mailto:", StringComparison.Ordinal)
               let path = Path.Combine(Tree.Root, Path.GetDirectoryName(file)!, target)
               where !File.Exists(path) && !Directory.Exists(path)
               select $"{file}: {target}",
        ];
        Assert.Empty(broken);
    }

    [Fact]
    public void No_path_of_a_machine_and_no_host_of_a_registry_stands_in_the_tree()
    {
        string[] found =
        [
            .. from file in Tree.Ending(".cs", ".csproj", ".props", ".targets", ".md", ".ts", ".tsx", ".css", ".html", ".json", ".yml", ".sh", ".txt", "Dockerfile", ".ci/run", ".npmrc")
               let lines = Tree.Lines(file)
               from number in Enumerable.Range(0, lines.Length)
               where Banned().IsMatch(lines[number])
               select $"{file}:{number + 1}: {lines[number].Trim()[..Math.Min(100, lines[number].Trim().Length)]}",
        ];
        Assert.Empty(found);
    }

    [Fact]
    public void A_lock_file_of_the_web_app_records_no_download_address()
    {
        foreach (string file in Tree.Ending("package-lock.json"))
        {
            JsonObject packages = JsonNode.Parse(Tree.Read(file))!["packages"]!.AsObject();
            Assert.DoesNotContain(packages, package => package.Value!["resolved"] is not null);
        }
    }

    [Fact]
    public void Every_limit_is_used_outside_the_list_of_limits()
    {
        const string list = "src/Incubation.Core/Limits.cs";
        string code = string.Join('\n', Tree.Ending(".cs").Where(file => file.StartsWith("src/", StringComparison.Ordinal) && file != list).Select(Tree.Read));
        string[] unused =
        [
            .. Constant().Matches(Tree.Read(list)).Select(constant => constant.Groups[1].Value)
                .Where(name => !Regex.IsMatch(code, $@"\bLimits\.{name}\b")),
        ];
        Assert.Empty(unused);
    }

    [Fact]
    public void Every_limit_says_why()
    {
        string[] lines = Tree.Lines("src/Incubation.Core/Limits.cs");
        string[] silent = [.. lines.Where((line, at) => Constant().IsMatch(line) && !lines[at - 1].TrimStart().StartsWith("///", StringComparison.Ordinal))];
        Assert.Empty(silent);
    }

    [GeneratedRegex(@"\]\(([^)\s]+)(?:\s+""[^""]*"")?\)")]
    private static partial Regex Link();

    [GeneratedRegex(@"```.*?```", RegexOptions.Singleline)]
    private static partial Regex CodeBlock();

    // Written in pieces, or this file would be found by its own test.
    [GeneratedRegex(@"/w[o]rk/|/r[o]ot/|/h[o]me/[a-z]|C:\\U[s]ers|registry\.np[m]js|api\.nu[g]et|deb\.deb[i]an", RegexOptions.IgnoreCase)]
    private static partial Regex Banned();

    [GeneratedRegex(@"public const \w+ (\w+) =")]
    private static partial Regex Constant();
}
