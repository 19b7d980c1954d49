using System.Text.RegularExpressions;
using System.Xml.Linq;
using Xunit;

namespace Incubation.Service.Tests.House;

/// <summary>Arrows between projects run one way: Service → Storage → Core, Service → Simulation → Core.</summary>
public sealed partial class ArrowTests
{
    private static readonly Dictionary<string, string[]> Allowed = new()
    {
        ["Core"] = [],
        ["Storage"] = ["Core"],
        ["Simulation"] = ["Core"],
        ["Service"] = ["Core", "Storage", "Simulation"],
    };

    public static TheoryData<string> Projects => [.. Allowed.Keys];

    [Theory]
    [MemberData(nameof(Projects))]
    public void A_project_references_only_what_its_arrows_allow(string project)
    {
        string[] referenced =
        [
            .. Elements(project, "ProjectReference").Select(path => Path.GetFileNameWithoutExtension(path.Replace('\\', '/')).Replace("Incubation.", "", StringComparison.Ordinal)),
        ];
        Assert.Empty(referenced.Except(Allowed[project]));
    }

    [Theory]
    [MemberData(nameof(Projects))]
    public void A_project_names_only_what_its_arrows_allow(string project)
    {
        string[] allowed = [project, .. Allowed[project]];
        string[] wrong =
        [
            .. from file in Tree.Ending(".cs")
               where file.StartsWith($"src/Incubation.{project}/", StringComparison.Ordinal)
               from Match used in Used().Matches(Tree.Read(file))
               let other = used.Groups[1].Value
               where Allowed.ContainsKey(other) && !allowed.Contains(other)
               select $"{file} uses {other}",
        ];
        Assert.Empty(wrong);
    }

    // System.Formats.Cbor is the framework's own CBOR reader, which it ships as a package: bytes in, values out.
    [Fact]
    public void Core_references_no_package_but_NodaTime_and_the_frameworks_CBOR_reader()
        => Assert.Equal(["NodaTime", "System.Formats.Cbor"], Elements("Core", "PackageReference"));

    [Fact]
    public void Core_uses_no_file_network_clock_log_or_service_container()
    {
        string[] wrong =
        [
            .. from file in Tree.Ending(".cs")
               where file.StartsWith("src/Incubation.Core/", StringComparison.Ordinal)
               from Match used in Impure().Matches(Tree.Read(file))
               select $"{file}: {used.Value}",
        ];
        Assert.Empty(wrong);
    }

    private static IEnumerable<string> Elements(string project, string name)
        => XDocument.Load(Path.Combine(Tree.Root, "src", $"Incubation.{project}", $"Incubation.{project}.csproj"))
            .Descendants(name).Select(element => (string)element.Attribute("Include")!);

    [GeneratedRegex(@"\busing (?:static )?Incubation\.(\w+)")]
    private static partial Regex Used();

    [GeneratedRegex(@"\busing System\.(IO|Net|Threading\.Tasks|Diagnostics)\b[^;]*;|\busing Microsoft\.[^;]*;|\bTimeProvider\b|\bConsole\.\w+|\bEnvironment\.\w+|\bFile\.\w+\(")]
    private static partial Regex Impure();
}
