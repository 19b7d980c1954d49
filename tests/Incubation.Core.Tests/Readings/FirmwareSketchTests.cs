using System.Diagnostics;
using System.Text;
using Incubation.Core.Readings;
using Xunit;

namespace Incubation.Core.Tests.Readings;

/// <summary>The parts of the reference sketch that need no hardware, compiled and run; and what they write, read by the service's reader.</summary>
public sealed class FirmwareSketchTests
{
    [Fact]
    public async Task Sketch_compiles_without_a_warning_holds_its_own_checks_and_writes_what_the_service_reads()
    {
        string? compiler = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(':').Select(folder => Path.Combine(folder, "g++")).FirstOrDefault(File.Exists);
        if (Environment.GetEnvironmentVariable("CI") == "true")
        {
            Assert.NotNull(compiler);
        }

        Assert.SkipWhen(compiler is null, "g++ is not installed (tests/run.sh installs it)");
        DirectoryInfo folder = Directory.CreateTempSubdirectory("incubation-sketch-");
        try
        {
            string program = Path.Combine(folder.FullName, "checks");
            // A cut-off text is no accident here: its length is checked, and a test wants it.
            await RunAsync(compiler!, "-std=c++17", "-Wall", "-Wextra", "-Wpedantic", "-Werror", "-Wno-format-truncation",
                "-o", program, Path.Combine(FirmwareNotesTests.Folder(), "sketch", "checks.cpp"));
            string[] payloads = (await RunAsync(program)).Split('\n', StringSplitOptions.RemoveEmptyEntries);
            Assert.True(payloads.Length > 50);
            Assert.All(payloads, payload =>
            {
                PayloadResult result = PayloadReader.Read(
                    Encoding.UTF8.GetBytes(payload),
                    new PayloadSource(Heard.Probe, Quantity.Temperature, NodaTime.Instant.FromUtc(2026, 11, 25, 3, 5), false), PayloadFields.Default, Heard.Nothing);
                Assert.Null(result.Rejection);
                Reading reading = Assert.Single(result.Readings.ToArray());
                Assert.Equal(payload[0] == '{' ? ReadingMarks.None : ReadingMarks.ArrivalTime, reading.Marks);
                Assert.InRange(reading.Value, 20, 40);
            });
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static async Task<string> RunAsync(string program, params string[] arguments)
    {
        CancellationToken stop = TestContext.Current.CancellationToken;
        ProcessStartInfo start = new(program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true };
        using Process process = Process.Start(start) ?? throw new InvalidOperationException($"{program} did not start.");
        Task<string> error = process.StandardError.ReadToEndAsync(stop);
        string output = await process.StandardOutput.ReadToEndAsync(stop);
        await process.WaitForExitAsync(stop);
        Assert.True(process.ExitCode == 0, $"{program} ended with {process.ExitCode}: {await error}");
        return output;
    }
}
