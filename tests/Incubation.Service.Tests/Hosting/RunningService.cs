using System.Net.Http.Json;
using Incubation.Service.Hosting;
using Incubation.Service.People;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace Incubation.Service.Tests.Hosting;

/// <summary>The real service on free ports with a data directory of its own.</summary>
internal sealed class RunningService : IAsyncDisposable
{
    private readonly DirectoryInfo _directory;

    private RunningService(DirectoryInfo directory, WebApplication app) => (_directory, App) = (directory, app);

    public WebApplication App { get; }

    public IServiceProvider Services => App.Services;

    public string DataDirectory => _directory.FullName;

    public string[] Addresses => [.. App.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses];

    public int HttpPort => PortOf(Addresses[0]);

    public static async Task<RunningService> StartAsync(
        bool demo = false, Dictionary<string, string?>? settings = null, Action<IServiceCollection>? also = null, string? webRoot = null)
    {
        DirectoryInfo directory = Directory.CreateTempSubdirectory("incubation-test-");
        var all = new Dictionary<string, string?>
        {
            ["Incubation:DataDirectory"] = directory.FullName,
            ["Incubation:Http:Port"] = "0",
            ["Incubation:Mqtt:Port"] = "0",
            ["Incubation:Disk:SpoolMegabytes"] = "1",
            ["Incubation:Disk:ReserveMegabytes"] = "1",
        };
        foreach ((string key, string? value) in settings ?? [])
        {
            all[key] = value;
        }

        await EmptyRecords.PutIntoAsync(all["Incubation:DataDirectory"]!);
        WebApplication app = ServiceHost.Build(new RunMode(demo, Furnished: false), all, also, webRoot);
        await app.StartAsync(TestContext.Current.CancellationToken);
        return new RunningService(directory, app);
    }

    /// <summary>A client with its own cookies that looks like our own page unless told otherwise.</summary>
    public HttpClient Browser(string? site = "same-origin", string host = "127.0.0.1")
    {
        var handler = new SocketsHttpHandler { AllowAutoRedirect = false, UseCookies = true };
        var client = new HttpClient(handler) { BaseAddress = new Uri($"http://{host}:{HttpPort}") };
        if (site is not null)
        {
            client.DefaultRequestHeaders.Add("Sec-Fetch-Site", site);
        }

        return client;
    }

    public async Task<HttpClient> ClaimedAsync(string name = "Ada", string password = "quiet warm egg room")
    {
        HttpClient browser = Browser();
        string code = Services.GetRequiredService<ClaimCode>().Shown;
        using HttpResponseMessage answer = await browser.PostAsJsonAsync("/api/claim", new { code, name, password }, TestContext.Current.CancellationToken);
        answer.EnsureSuccessStatusCode();
        return browser;
    }

    public static int PortOf(string address) => new Uri(address.Replace("*", "0.0.0.0", StringComparison.Ordinal).Replace("[::]", "localhost", StringComparison.Ordinal)).Port;

    public async ValueTask DisposeAsync()
    {
        await App.DisposeAsync();
        SqliteConnection.ClearAllPools();
        await Tidy.AwayAsync(DataDirectory);
    }
}
