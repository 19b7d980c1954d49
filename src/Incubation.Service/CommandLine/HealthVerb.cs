using System.CommandLine;
using System.Globalization;
using Incubation.Service.Hosting;

namespace Incubation.Service.CommandLine;

/// <summary><c>incubation health</c>: asks a running service, for container health checks (the image has no other HTTP client).</summary>
internal static class HealthVerb
{
    public static Command Create()
    {
        var address = new Option<string>("--address")
        {
            Description = "Address of the running service.",
            DefaultValueFactory = _ => "http://localhost:5080",
        };
        var verb = new Command("health", "Asks a running service whether it works and is ready. Exit code 0 yes, 1 no.");
        verb.Options.Add(address);
        verb.SetAction((parsed, stop) => AskAsync(parsed.GetValue(address)!, parsed.InvocationConfiguration, stop));
        return verb;
    }

    private static async Task<int> AskAsync(string address, InvocationConfiguration console, CancellationToken stop)
    {
        if (!Uri.TryCreate(address, UriKind.Absolute, out Uri? root) || root.Scheme is not ("http" or "https"))
        {
            await console.Error.WriteLineAsync($"--address is \"{address}\". Allowed: an address such as http://localhost:5080.");
            return ExitCodes.WrongUsage;
        }

        using var client = new HttpClient { BaseAddress = root, Timeout = TimeSpan.FromSeconds(5) };
        foreach (string path in (string[])["/readyz", "/healthz"])
        {
            try
            {
                using HttpResponseMessage answer = await client.GetAsync(new Uri(path, UriKind.Relative), stop);
                if (!answer.IsSuccessStatusCode)
                {
                    string body = await answer.Content.ReadAsStringAsync(stop);
                    await console.Error.WriteLineAsync(string.Create(CultureInfo.InvariantCulture, $"{path} answered {(int)answer.StatusCode}: {body}"));
                    return ExitCodes.Failed;
                }
            }
            catch (Exception error) when (error is HttpRequestException or TaskCanceledException)
            {
                await console.Error.WriteLineAsync($"{address} does not answer: {error.Message}");
                return ExitCodes.Failed;
            }
        }

        await console.Output.WriteLineAsync("works");
        return ExitCodes.Ok;
    }
}
