using System.CommandLine;
using Incubation.Service.Hosting;

namespace Incubation.Service.CommandLine;

/// <summary><c>incubation demo</c>: an invented facility, living, on this machine only.</summary>
internal static class DemoVerb
{
    public static Command Create()
    {
        var common = new ServiceOptions();
        var verb = new Command("demo", "Runs an invented facility with probes that publish. Signs you in by itself, on this machine only.");
        common.AddTo(verb);
        verb.SetAction(async (parsed, stop) =>
        {
            Dictionary<string, string?> settings = common.Read(parsed);
            string? temporary = null;
            if (!settings.ContainsKey(ServiceOptions.DataKey))
            {
                // Whatever Incubation__DataDirectory says: the demo must never seed somebody's real facility.
                temporary = Directory.CreateTempSubdirectory("incubation-demo-").FullName;
                settings[ServiceOptions.DataKey] = temporary;
            }

            try
            {
                return await ServiceRun.RunAsync(new RunMode(Demo: true), settings, parsed.InvocationConfiguration.Error, stop);
            }
            finally
            {
                Remove(temporary);
            }
        });
        return verb;
    }

    private static void Remove(string? directory)
    {
        try
        {
            if (directory is not null)
            {
                Directory.Delete(directory, recursive: true);
            }
        }
        catch (IOException)
        {
            // A file still open somewhere: the system clears its temporary folder in its own time.
        }
    }
}
