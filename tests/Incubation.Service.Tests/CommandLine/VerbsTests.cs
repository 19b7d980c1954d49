using System.Globalization;
using System.Net;
using System.Net.Sockets;
using Incubation.Service.CommandLine;
using Incubation.Service.Hosting;
using Incubation.Service.Tests.Hosting;
using Xunit;

namespace Incubation.Service.Tests.CommandLine;

public sealed class VerbsTests : IAsyncDisposable
{
    private readonly DirectoryInfo _directory = Directory.CreateTempSubdirectory("incubation-test-");
    private readonly StringWriter _output = new(CultureInfo.InvariantCulture);
    private readonly StringWriter _errors = new(CultureInfo.InvariantCulture);

    [Theory]
    [InlineData("--help")]
    [InlineData("serve", "--help")]
    [InlineData("demo", "--help")]
    [InlineData("health", "--help")]
    [InlineData("version", "--help")]
    [InlineData("version")]
    public async Task Run_help_and_version_answer_0(params string[] args)
    {
        Assert.Equal(0, await RunAsync(args));
        Assert.NotEmpty(_output.ToString().Trim());
    }

    [Theory]
    [InlineData]
    [InlineData("hatch")]
    [InlineData("serve", "--colour", "blue")]
    [InlineData("serve", "--http-port", "eighty")]
    [InlineData("health", "--address", "nowhere")]
    public async Task Run_wrong_usage_answers_2_and_says_why(params string[] args)
    {
        Assert.Equal(2, await RunAsync(args));
        Assert.NotEmpty(_errors.ToString().Trim());
    }

    [Fact]
    public async Task Health_asks_a_running_service()
    {
        await using RunningService service = await RunningService.StartAsync();
        Assert.Equal(0, await RunAsync("health", "--address", $"http://127.0.0.1:{service.HttpPort}"));
    }

    [Fact]
    public async Task Health_without_a_service_answers_1()
    {
        Assert.Equal(1, await RunAsync("health", "--address", $"http://127.0.0.1:{FreePort()}"));
        Assert.Contains("does not answer", _errors.ToString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("--http-port", "Incubation:Http:Port")]
    [InlineData("--mqtt-port", "Incubation:Mqtt:Port")]
    public async Task Serve_on_a_port_in_use_answers_1_with_the_setting(string option, string key)
    {
        using var other = new TcpListener(IPAddress.Loopback, 0);
        other.Start();
        string port = ((IPEndPoint)other.LocalEndpoint).Port.ToString(CultureInfo.InvariantCulture);
        string otherOption = option == "--http-port" ? "--mqtt-port" : "--http-port";
        Assert.Equal(1, await RunAsync("serve", "--data", _directory.FullName, option, port, otherOption, "0"));
        AssertOneLine($"{key} is {port}", "Allowed: a free port");
    }

    [Fact]
    public async Task Serve_with_a_data_directory_that_cannot_be_made_answers_1()
    {
        string file = Path.Combine(_directory.FullName, "file");
        await File.WriteAllTextAsync(file, "", TestContext.Current.CancellationToken);
        string data = Path.Combine(file, "data");
        Assert.Equal(1, await RunAsync("serve", "--data", data, "--http-port", "0", "--mqtt-port", "0"));
        AssertOneLine($"Incubation:DataDirectory is \"{data}\"", "Allowed: a directory that this user may write");
    }

    [Fact]
    public async Task Serve_on_a_data_directory_in_use_answers_1()
    {
        await using RunningService service = await RunningService.StartAsync();
        Assert.Equal(1, await RunAsync("serve", "--data", service.DataDirectory, "--http-port", "0", "--mqtt-port", "0"));
        AssertOneLine("Incubation:DataDirectory", "another running service holds it");
    }

    [Fact]
    public async Task Serve_with_a_wrong_port_answers_1_with_the_setting()
    {
        Assert.Equal(ExitCodes.Failed, await RunAsync("serve", "--data", _directory.FullName, "--http-port", "70000"));
        AssertOneLine("Incubation:Http:Port is \"70000\"", "Allowed: a number from 0 to 65535");
    }

    public async ValueTask DisposeAsync()
    {
        await Tidy.AwayAsync(_directory.FullName);
        _output.Dispose();
        _errors.Dispose();
    }

    private Task<int> RunAsync(params string[] args) => Verbs.RunAsync(args, _output, _errors, TestContext.Current.CancellationToken);

    private void AssertOneLine(params string[] parts)
    {
        string line = Assert.Single(_errors.ToString().Split(Environment.NewLine, StringSplitOptions.RemoveEmptyEntries));
        Assert.All(parts, part => Assert.Contains(part, line, StringComparison.Ordinal));
    }

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
