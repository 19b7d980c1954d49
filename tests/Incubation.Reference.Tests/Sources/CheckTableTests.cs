using System.Reflection;
using Xunit;

namespace Incubation.Reference.Tests.Sources;

public sealed class CheckTableTests
{
    private const string WriteSwitch = "INCUBATION_WRITE_CHECKS";

    [Fact]
    public void Every_check_says_where_its_figures_come_from()
    {
        string[] silent = [.. CheckTable.Checks().Where(c => CheckTable.SourcesOf(c).Count == 0).Select(Name)];
        Assert.Empty(silent);
        Assert.NotEmpty(CheckTable.Checks());
    }

    [Fact]
    public void A_source_names_author_year_title_and_place()
    {
        foreach (MethodInfo check in CheckTable.Checks())
        {
            foreach (SourceAttribute source in check.GetCustomAttributes<SourceAttribute>())
            {
                Assert.False(string.IsNullOrWhiteSpace(source.Author), Name(check));
                Assert.InRange(source.Year, 1750, 2100);
                Assert.False(string.IsNullOrWhiteSpace(source.Title), Name(check));
                Assert.False(string.IsNullOrWhiteSpace(source.Place), Name(check));
            }

            foreach (NoSourceAttribute none in check.GetCustomAttributes<NoSourceAttribute>())
            {
                Assert.Contains(none.Basis, new[] { NoSourceAttribute.CommonPractice, NoSourceAttribute.FromMemory });
            }
        }
    }

    [Fact]
    public void The_table_in_the_README_is_the_one_the_tests_give()
    {
        string path = CheckTable.ReadmePath();
        string readme = File.ReadAllText(path).ReplaceLineEndings("\n");
        int begin = readme.IndexOf(CheckTable.Begin, StringComparison.Ordinal);
        int end = readme.IndexOf(CheckTable.End, StringComparison.Ordinal);
        Assert.True(begin >= 0 && end > begin, "The README has lost the marks between which the table stands.");
        string expected = readme[..begin] + CheckTable.Markdown() + readme[(end + CheckTable.End.Length)..];
        if (Environment.GetEnvironmentVariable(WriteSwitch) == "1")
        {
            File.WriteAllText(path, expected);
            return;
        }

        Assert.True(expected == readme, $"The table of checks is not up to date: run these tests once with {WriteSwitch}=1 and commit README.md.");
    }

    private static string Name(MethodInfo check) => $"{check.DeclaringType!.Name}.{check.Name}";
}
