using Incubation.Service.Hosting;

namespace Incubation.Service.CommandLine;

/// <summary>Runs the service until it is told to stop, and turns a failed start into one clear line.</summary>
internal static class ServiceRun
{
    public static async Task<int> RunAsync(
        RunMode mode, IReadOnlyDictionary<string, string?> settings, TextWriter errors, CancellationToken stop)
    {
        try
        {
            await using WebApplication app = ServiceHost.Build(mode, settings);
            try
            {
                await app.StartAsync(stop);
            }
            catch (IOException error) when (StartWords.PortInUse(error, app.Services) is { } words)
            {
                throw new StartException(words, error);
            }

            await app.WaitForShutdownAsync(stop);
            return app.Services.GetRequiredService<ServiceFate>().ExitCode;
        }
        catch (StartException error)
        {
            await errors.WriteLineAsync($"incubation can't start: {error.Message}");
            return ExitCodes.Failed;
        }
    }
}
