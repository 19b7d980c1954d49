using System.Reflection;
using System.Text;
using Xunit;

namespace Incubation.Reference.Tests.Sources;

/// <summary>All checks of this project with their sources, read from the tests themselves.</summary>
internal static class CheckTable
{
    public const string Begin = "<!-- checks: begin (written by the tests; see below) -->";
    public const string End = "<!-- checks: end -->";

    /// <summary>Every test method outside this folder.</summary>
    public static IEnumerable<MethodInfo> Checks()
        => from type in typeof(CheckTable).Assembly.GetTypes()
           where type.Namespace != typeof(CheckTable).Namespace
           from method in type.GetMethods(BindingFlags.Instance | BindingFlags.Static | BindingFlags.Public | BindingFlags.DeclaredOnly)
           where method.GetCustomAttributes<FactAttribute>(inherit: true).Any()
           orderby Room(type), type.Name, method.Name
           select method;

    public static IReadOnlyList<string> SourcesOf(MethodInfo check)
        => [.. check.GetCustomAttributes<SourceAttribute>().Select(s => s.ToString())
            .Concat(check.GetCustomAttributes<NoSourceAttribute>().Select(s => s.ToString()))
            .Order(StringComparer.Ordinal)];

    /// <summary>The table as Markdown, between its marks.</summary>
    public static string Markdown()
    {
        var text = new StringBuilder().Append(Begin).Append("\n\n| room | check | source |\n| --- | --- | --- |\n");
        foreach (MethodInfo check in Checks())
        {
            text.Append("| ").Append(Room(check.DeclaringType!)).Append(" | ").Append(check.Name.Replace('_', ' '))
                .Append(" | ").AppendJoin("<br>", SourcesOf(check).Select(s => s.Replace("|", "\\|", StringComparison.Ordinal)))
                .Append(" |\n");
        }

        return text.Append('\n').Append(End).ToString();
    }

    /// <summary>This project's README, found from where the tests run.</summary>
    public static string ReadmePath()
    {
        for (DirectoryInfo? folder = new(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "Incubation.sln")))
            {
                return Path.Combine(folder.FullName, "tests", "Incubation.Reference.Tests", "README.md");
            }
        }

        throw new InvalidOperationException("The tests run outside the repository: no Incubation.sln above " + AppContext.BaseDirectory);
    }

    private static string Room(Type type) => type.Namespace!.Split('.')[^1];
}
