using System.Net;
using System.Net.Http.Json;
using System.Security.Claims;
using System.Text.Encodings.Web;
using System.Text.Json;
using Incubation.Core.Readings;
using Incubation.Service.Air;
using Incubation.Service.Broker;
using Incubation.Service.Facility;
using Incubation.Service.Hosting;
using Incubation.Service.Http;
using Incubation.Service.Live;
using Incubation.Service.People;
using Incubation.Service.Probes;
using Incubation.Service.Readings;
using Incubation.Service.Tests.Hosting;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Options;
using Microsoft.Extensions.Time.Testing;
using MQTTnet.AspNetCore;
using Xunit;

namespace Incubation.Service.Tests.Readings;

/// <summary>The rooms of the intake on real ports, with a real broker, real SQLite files and a clock that tests set.</summary>
internal sealed class IntakeHost : IAsyncDisposable
{
    private readonly WebApplication _app;
    private readonly string _directory;
    private readonly bool _keep;

    private IntakeHost(WebApplication app, FakeTimeProvider time, string directory, bool keep)
    {
        (_app, Time, _directory, _keep) = (app, time, directory, keep);
        Uri[] addresses = [.. app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.Select(a => new Uri(a))];
        Http = new HttpClient { BaseAddress = addresses[0] };
        MqttPort = addresses[1].Port;
    }

    public FakeTimeProvider Time { get; }
    public HttpClient Http { get; }
    public int MqttPort { get; }
    public IServiceProvider Services => _app.Services;
    public string Directory => _directory;

    public static async Task<IntakeHost> StartAsync(
        Action<IServiceCollection>? change = null, Action<IncubationOptions>? settings = null, string? directory = null, bool keep = false,
        DateTimeOffset? now = null)
    {
        string data = directory ?? System.IO.Directory.CreateTempSubdirectory("incubation-test-").FullName;
        await EmptyRecords.PutIntoAsync(data);
        FakeTimeProvider time = new(now ?? new DateTimeOffset(2026, 11, 25, 3, 0, 0, TimeSpan.Zero));
        WebApplicationBuilder builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        ListenSource addresses = new();
        IConfigurationRoot endpoints = new ConfigurationBuilder().Add(addresses).Build();
        builder.Services.AddSingleton(addresses);
        builder.WebHost.ConfigureKestrel(kestrel => kestrel.Configure(endpoints, reloadOnChange: true)
            .Endpoint(ListenPlan.Mqtt, endpoint => endpoint.ListenOptions.UseMqtt()));
        builder.Services.Configure<IncubationOptions>(options =>
        {
            (options.DataDirectory, options.Http.Port, options.Mqtt.Port) = (data, 0, 0);
            settings?.Invoke(options);
        });
        builder.Services.AddSingleton<TimeProvider>(time);
        builder.Services.AddHosting(new RunMode()).AddRecords().AddBroker().AddReadings().AddFacility().AddProbes().AddAir().AddLive().AddPeople(new RunMode()).AddHttp();
        builder.Services.AddAuthentication(TestSignIn.Name).AddScheme<AuthenticationSchemeOptions, TestSignIn>(TestSignIn.Name, null);
        change?.Invoke(builder.Services);

        WebApplication app = builder.Build();
        app.UseHttp().MapReadings().MapFacility().MapProbes().MapAir().MapLive();
        await app.StartAsync(TestContext.Current.CancellationToken);
        return new IntakeHost(app, time, data, keep);
    }

    public async Task<JsonElement> GetAsync(string path)
        => await Http.GetFromJsonAsync<JsonElement>(path, TestContext.Current.CancellationToken);

    public Task<HttpResponseMessage> PostAsync(string path, object body)
        => Http.PostAsJsonAsync(path, body, TestContext.Current.CancellationToken);

    public Task<HttpResponseMessage> PutAsync(string path, object body)
        => Http.PutAsJsonAsync(path, body, TestContext.Current.CancellationToken);

    public Task<HttpResponseMessage> DeleteAsync(string path) => Http.DeleteAsync(path, TestContext.Current.CancellationToken);

    /// <summary>An incubator in use; returns its key.</summary>
    public async Task<string> AddIncubatorAsync(string name)
    {
        using HttpResponseMessage answer = await PostAsync("/api/incubators", new { name });
        Assert.Equal(HttpStatusCode.Created, answer.StatusCode);
        JsonElement body = await answer.Content.ReadFromJsonAsync<JsonElement>(TestContext.Current.CancellationToken);
        return body.GetProperty("key").GetString()!;
    }

    public async Task PlaceAsync(string probe, string incubator, string where = "air")
    {
        using HttpResponseMessage answer = await PostAsync($"/api/probes/{probe}/placements", new { incubator, where });
        Assert.Equal(HttpStatusCode.Created, answer.StatusCode);
    }

    public async ValueTask DisposeAsync()
    {
        Http.Dispose();
        await _app.StopAsync(CancellationToken.None);
        await _app.DisposeAsync();
        if (!_keep)
        {
            await Tidy.AwayAsync(_directory);
        }
    }

    /// <summary>Signs everyone in as the owner, or as the header says.</summary>
    private sealed class TestSignIn(IOptionsMonitor<AuthenticationSchemeOptions> options, ILoggerFactory logger, UrlEncoder encoder)
        : AuthenticationHandler<AuthenticationSchemeOptions>(options, logger, encoder)
    {
        public const string Name = "test";

        protected override Task<AuthenticateResult> HandleAuthenticateAsync()
        {
            string role = Request.Headers.TryGetValue("X-Role", out var named) ? named.ToString() : Policies.Owner;
            if (role == "nobody")
            {
                return Task.FromResult(AuthenticateResult.NoResult());
            }

            ClaimsIdentity identity = new([new Claim(ClaimTypes.Name, "Ada"), new Claim(ClaimTypes.Role, role)], Name);
            return Task.FromResult(AuthenticateResult.Success(new AuthenticationTicket(new ClaimsPrincipal(identity), Name)));
        }
    }
}

/// <summary>Waits for what is to come, up to a bound that only a fault reaches.</summary>
internal static class Eventually
{
    public static async Task True(Func<Task<bool>> condition, string what)
    {
        using CancellationTokenSource late = new(TimeSpan.FromSeconds(20), TimeProvider.System);
        while (!await condition())
        {
            Assert.False(late.IsCancellationRequested, $"It never came true: {what}");
            await Task.Delay(TimeSpan.FromMilliseconds(10), TimeProvider.System, TestContext.Current.CancellationToken);
        }
    }

    public static Task True(Func<bool> condition, string what) => True(() => Task.FromResult(condition()), what);
}

/// <summary>A store that fails as long as it is told to.</summary>
internal sealed class TroubledStore : IReadingStore
{
    private readonly Lock _gate = new();
    private readonly List<Reading> _stored = [];

    public volatile bool Fails;

    public IReadOnlyList<Reading> Stored
    {
        get
        {
            lock (_gate)
            {
                return [.. _stored];
            }
        }
    }

    public async Task StoreAsync(ReadOnlyMemory<Reading> readings, CancellationToken cancellationToken)
    {
        await Task.Yield();
        if (Fails)
        {
            throw new StoreUnavailableException("The disk is full. Make room.");
        }

        lock (_gate)
        {
            _stored.AddRange(readings.ToArray());
        }
    }

    public IReadOnlyList<Reading> Read(SeriesKey series, NodaTime.Instant from, NodaTime.Instant to) => [];

    public ReadingBuckets Buckets(SeriesKey series, NodaTime.Instant from, NodaTime.Instant to, int buckets, Correction correction)
        => new(1, [], [], [], [], []);

    public IReadOnlyList<Reading> Latest() => [];
}
