using Incubation.Benchmarks;
using Incubation.Benchmarks.Main;
using Incubation.Benchmarks.Readings;

return await Areas.RunAsync(args);

/// <summary>The areas that can be measured. Exit codes: 0 every figure holds, 1 one falls short, 2 wrong usage or not measured yet.</summary>
internal static class Areas
{
    private static readonly string[] All = ["main", "readings", "alarms", "candling", "genetics", "tint", "forecast", "review", "trust", "scale"];

    private static readonly Dictionary<string, Func<Figures, CancellationToken, Task>> Measured = new()
    {
        ["main"] = MainArea.MeasureAsync,
        ["readings"] = ReadingsArea.MeasureAsync,
    };

    public static async Task<int> RunAsync(string[] args)
    {
        string? json = null;
        if (args is [_, "--json", { Length: > 0 } file])
        {
            json = file;
        }
        else if (args.Length != 1)
        {
            return await UsageAsync();
        }

        string area = args[0];
        if (area != "all" && !All.Contains(area))
        {
            return await UsageAsync();
        }

        using CancellationTokenSource stop = new();
        Console.CancelKeyPress += (_, press) =>
        {
            press.Cancel = true;
            stop.Cancel();
        };
        Figures figures = new();
        bool unmeasured = false;
        foreach (string one in area == "all" ? All : [area])
        {
            if (Measured.TryGetValue(one, out Func<Figures, CancellationToken, Task>? measure))
            {
                await measure(figures, stop.Token);
            }
            else
            {
                unmeasured = true;
                Console.WriteLine($"{one}: not measured yet");
            }
        }

        if (json is not null)
        {
            await figures.WriteAsync(json, stop.Token);
        }

        return !figures.AllHold ? 1 : unmeasured ? 2 : 0;
    }

    private static async Task<int> UsageAsync()
    {
        await Console.Error.WriteLineAsync($"Usage: AREA [--json FILE], with AREA one of {string.Join(' ', All)} all");
        return 2;
    }
}
