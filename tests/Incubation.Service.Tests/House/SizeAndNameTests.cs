using System.Globalization;
using System.Text.RegularExpressions;
using Xunit;

namespace Incubation.Service.Tests.House;

/// <summary>Files stay small, names say what a thing is, and a capability has one name in every part of the house.</summary>
public sealed partial class SizeAndNameTests
{
    private const int MostLines = 350;

    private static readonly string[] TopLevel =
    [
        "src", "tests", "firmware-notes", "grafana-free-dashboards", "README.md", "DEVELOPERS.md", "LICENSE", "Incubation.sln",
        "docker-compose.yml", "global.json", "Directory.Build.props", "Directory.Packages.props",
    ];

    /// <summary>Rooms of Core that are tested through the rooms that use them: air is psychrometrics under outside checks.</summary>
    private static readonly string[] TestedElsewhere = ["Air"];

    [Fact]
    public void No_file_of_code_is_longer_than_350_lines()
    {
        string[] longer =
        [
            .. Tree.Ending(".cs", ".ts", ".tsx", ".css", ".sh").Append(".ci/run").Where(file => !file.Contains("/Migrations/", StringComparison.Ordinal))
                .Select(file => (file, Tree.Lines(file).Length)).Where(sized => sized.Length > MostLines)
                .Select(sized => string.Create(CultureInfo.InvariantCulture, $"{sized.file}: {sized.Length}")),
        ];
        Assert.Empty(longer);
    }

    [Fact]
    public void No_file_or_type_is_called_by_a_word_that_says_nothing()
    {
        string[] wrong =
        [
            .. Tree.Files.Where(file => Empty().IsMatch(Path.GetFileName(file))),
            .. from file in Tree.Ending(".cs", ".ts", ".tsx")
               from Match type in Declared().Matches(Tree.Read(file))
               where Empty().IsMatch(type.Groups[1].Value)
               select $"{file}: {type.Value}",
        ];
        Assert.Empty(wrong);
    }

    [Fact]
    public void Every_entry_at_the_top_is_on_the_list()
    {
        string[] strange = [.. Tree.Files.Select(file => file.Split('/')[0]).Where(entry => !entry.StartsWith('.')).Distinct().Except(TopLevel)];
        Assert.Empty(strange);
    }

    [Fact]
    public void A_room_of_Core_has_a_room_of_tests()
    {
        IReadOnlySet<string> tested = Tree.FoldersUnder("tests/Incubation.Core.Tests");
        IReadOnlySet<string> reference = Tree.FoldersUnder("tests/Incubation.Reference.Tests");
        string[] untested = [.. Tree.FoldersUnder("src/Incubation.Core").Except(TestedElsewhere).Except(tested).Except(reference)];
        Assert.Empty(untested);
    }

    [Theory]
    [InlineData("tests/Incubation.Core.Tests", "src/Incubation.Core", "")]
    [InlineData("tests/Incubation.Service.Tests", "src/Incubation.Service", "House")]
    [InlineData("tests/Incubation.Storage.Tests", "src/Incubation.Storage", "Fixtures")]
    [InlineData("tests/Incubation.Simulation.Tests", "src/Incubation.Simulation", "")]
    public void A_room_of_tests_is_a_room_of_what_it_tests(string tests, string source, string own)
        => Assert.Empty(Tree.FoldersUnder(tests).Except(own.Split(' ')).Except(Tree.FoldersUnder(source)));

    [Fact]
    public void A_room_of_the_dashboards_bears_the_name_of_a_room_of_the_service()
    {
        // The web app's own: its frame, its look, its words, and the path through the first night, which is made of other rooms.
        string[] own = ["house", "look", "words", "firstnight"];
        string[] rooms = [.. Tree.FoldersUnder("src/Incubation.Service").Concat(Tree.FoldersUnder("src/Incubation.Core")).Select(room => room.ToLowerInvariant())];
        Assert.Empty(Tree.FoldersUnder("grafana-free-dashboards/src").Except(own).Except(rooms));
    }

    [GeneratedRegex(@"(Helper|Manager|Utils?|Utilities)(s)?(\.|$|(?=[A-Z]))")]
    private static partial Regex Empty();

    [GeneratedRegex(@"\b(?:class|record|struct|interface|enum)\s+(\w+)")]
    private static partial Regex Declared();
}
