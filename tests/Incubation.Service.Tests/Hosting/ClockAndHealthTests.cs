using System.Globalization;
using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using Incubation.Service.Hosting;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Time.Testing;
using NodaTime;
using Xunit;

namespace Incubation.Service.Tests.Hosting;

public sealed class ClockAndHealthTests
{
    private static readonly Instant Now = Instant.FromUtc(2026, 11, 25, 3, 0);

    [Theory]
    [InlineData(-1, true)]
    [InlineData(1, false)]
    public async Task Trusted_is_whether_the_clock_stands_before_a_time_it_has_shown(int hoursSeen, bool trusted)
    {
        DirectoryInfo directory = Directory.CreateTempSubdirectory("incubation-test-");
        string seen = (Now + Duration.FromHours(hoursSeen)).ToUnixTimeMilliseconds().ToString(CultureInfo.InvariantCulture);
        string file = Path.Combine(directory.FullName, "clock");
        await File.WriteAllTextAsync(file, seen, TestContext.Current.CancellationToken);
        await using (RunningService service = await RunningService.StartAsync(
            settings: new() { ["Incubation:DataDirectory"] = directory.FullName },
            also: services => services.AddSingleton<TimeProvider>(new FakeTimeProvider(Now.ToDateTimeOffset()))))
        {
            Assert.Equal(trusted, service.Services.GetRequiredService<ServiceClock>().Trusted);
            string number = trusted ? Now.ToUnixTimeMilliseconds().ToString(CultureInfo.InvariantCulture) : seen;
            string expected = $"{number} {number}\n";
            await Eventually.TrueAsync(async () => await File.ReadAllTextAsync(file, TestContext.Current.CancellationToken) == expected, "the time in the file");
        }

        await Tidy.AwayAsync(directory.FullName);
    }

    [Fact]
    public async Task Health_is_503_while_a_worker_has_failed_and_says_which_but_not_why()
    {
        await using RunningService service = await RunningService.StartAsync();
        using HttpClient anyone = service.Browser();
        WorkerPulse pulse = service.Services.GetRequiredService<WorkerBoard>().Register("journal writer", null);
        pulse.Begin();
        Assert.Equal(HttpStatusCode.OK, (await ReadAsync(anyone, "/healthz")).Status);
        pulse.Fail();
        (HttpStatusCode status, JsonElement body) = await ReadAsync(anyone, "/healthz");
        Assert.Equal((HttpStatusCode.ServiceUnavailable, "fails"), (status, body.GetProperty("status").GetString()));
        Assert.Contains(body.GetProperty("workers").EnumerateArray(), w => w.GetProperty("name").GetString() == "journal writer" && w.GetProperty("state").GetString() == "failed");
    }

    [Fact]
    public async Task Start_runs_the_steps_by_stage_before_it_listens_and_is_ready_after()
    {
        var order = new List<StartupStage>();
        await using RunningService service = await RunningService.StartAsync(also: services =>
        {
            foreach (StartupStage stage in (StartupStage[])[StartupStage.Alarms, StartupStage.House, StartupStage.Readings, StartupStage.Facility])
            {
                services.AddSingleton<IStartupStep>(provider => new Step(stage, order, provider.GetRequiredService<StartupSequence>));
            }
        });
        Assert.Equal([StartupStage.House, StartupStage.Facility, StartupStage.Readings, StartupStage.Alarms], order);
        using HttpClient anyone = service.Browser();
        Assert.Equal(HttpStatusCode.OK, (await ReadAsync(anyone, "/readyz")).Status);
    }

    private static async Task<(HttpStatusCode Status, JsonElement Body)> ReadAsync(HttpClient client, string path)
    {
        using HttpResponseMessage answer = await client.GetAsync(new Uri(path, UriKind.Relative), TestContext.Current.CancellationToken);
        return (answer.StatusCode, await answer.Content.ReadFromJsonAsync<JsonElement>(TestContext.Current.CancellationToken));
    }

    private sealed class Step(StartupStage stage, List<StartupStage> order, Func<StartupSequence> start) : IStartupStep
    {
        public StartupStage Stage => stage;

        public Task RunAsync(CancellationToken cancellationToken)
        {
            Assert.NotNull(start().WaitingFor);
            order.Add(stage);
            return Task.CompletedTask;
        }
    }
}
