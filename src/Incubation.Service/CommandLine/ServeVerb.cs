using System.CommandLine;
using Incubation.Service.Hosting;

namespace Incubation.Service.CommandLine;

/// <summary><c>incubation serve</c>: the real thing.</summary>
internal static class ServeVerb
{
    public static Command Create()
    {
        var common = new ServiceOptions();
        var allowTests = new Option<bool>("--allow-test-settings")
        {
            Description = "Obey the settings under Incubation:Test. They can lose readings; for tests that must show a loss.",
        };
        var verb = new Command("serve", "Runs the service: broker, alarms, calls, and the dashboards.");
        common.AddTo(verb);
        verb.Options.Add(allowTests);
        verb.SetAction((parsed, stop) => ServiceRun.RunAsync(
            new RunMode(Demo: false, AllowTestSettings: parsed.GetValue(allowTests)), common.Read(parsed), parsed.InvocationConfiguration.Error, stop));
        return verb;
    }
}
