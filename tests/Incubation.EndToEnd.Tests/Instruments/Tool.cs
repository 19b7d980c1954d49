using System.Diagnostics;

namespace Incubation.EndToEnd.Tests.Instruments;

/// <summary>Runs another program to its end and keeps what it said.</summary>
internal static class Tool
{
    public sealed record Said(int ExitCode, string Output);

    public static async Task<Said> TryAsync(string program, IEnumerable<string> arguments, CancellationToken stop, byte[]? input = null)
    {
        ProcessStartInfo start = new(program, arguments)
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            RedirectStandardInput = input is not null,
        };
        using Process process = Process.Start(start) ?? throw new InvalidOperationException($"{program} did not start.");
        if (input is not null)
        {
            await process.StandardInput.BaseStream.WriteAsync(input, stop);
            process.StandardInput.Close();
        }

        Task<string> error = process.StandardError.ReadToEndAsync(stop);
        string output = await process.StandardOutput.ReadToEndAsync(stop);
        await process.WaitForExitAsync(stop);
        return new Said(process.ExitCode, output + await error);
    }

    public static async Task<string> RunAsync(string program, CancellationToken stop, params string[] arguments)
    {
        Said said = await TryAsync(program, arguments, stop);
        return said.ExitCode == 0
            ? said.Output
            : throw new InvalidOperationException($"{program} {string.Join(' ', arguments)} ended with {said.ExitCode}: {said.Output}");
    }

    /// <summary>Full path of a program on the path or in the folders of system tools, or null.</summary>
    public static string? Find(string program)
        => (Environment.GetEnvironmentVariable("PATH") ?? "").Split(':').Append("/usr/sbin").Append("/sbin")
            .Where(folder => folder.Length > 0).Select(folder => Path.Combine(folder, program)).FirstOrDefault(File.Exists);
}
