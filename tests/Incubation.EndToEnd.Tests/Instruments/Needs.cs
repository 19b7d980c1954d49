using Xunit;

namespace Incubation.EndToEnd.Tests.Instruments;

/// <summary>What a test needs of the machine. Where it is missing the test is skipped; with CI=true it fails, for nobody would notice.</summary>
internal static class Needs
{
    public static string Program(string name)
    {
        string? path = Tool.Find(name);
        Hold(path is not null, $"{name} is not installed (tests/run.sh installs it)");
        return path!;
    }

    public static void Root() => Hold(Environment.IsPrivilegedProcess && OperatingSystem.IsLinux(), "mounting a disk image needs root on Linux");

    public static void Hold(bool there, string otherwise)
    {
        if (!there && Environment.GetEnvironmentVariable("CI") == "true")
        {
            Assert.Fail($"{otherwise}, and CI=true allows no skip.");
        }

        Assert.SkipUnless(there, otherwise);
    }
}
