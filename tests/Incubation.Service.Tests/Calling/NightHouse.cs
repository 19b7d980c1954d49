using System.Net.Http.Json;
using System.Text.Json;
using Incubation.Core.Readings;
using Incubation.Service.Alarms;
using Incubation.Service.Hosting;
using Incubation.Service.Probes;
using Incubation.Service.Readings;
using Incubation.Service.Tests.Hosting;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Time.Testing;
using NodaTime;
using Xunit;

namespace Incubation.Service.Tests.Calling;

/// <summary>The real service at three in the morning, with one incubator, one placed probe, a signed-in keeper called Ada and a clock that tests set.</summary>
internal sealed class NightHouse : IAsyncDisposable
{
    public const string Secret = "whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw";
    public const string Probe = "box-1";

    private NightHouse(RunningService service, FakeTimeProvider time, HttpClient keeper) => (Service, Time, Keeper) = (service, time, keeper);

    public RunningService Service { get; }

    public FakeTimeProvider Time { get; }

    public HttpClient Keeper { get; }

    public string Incubator { get; private set; } = "";

    public static CancellationToken Stop => TestContext.Current.CancellationToken;

    /// <param name="settings">Settings that win.</param>
    /// <param name="also">Registrations that win.</param>
    /// <param name="name">Name of the incubator.</param>
    /// <param name="time">The clock of an earlier start; with it the keeper signs in again and the incubator is there already.</param>
    public static async Task<NightHouse> StartAsync(
        Dictionary<string, string?>? settings = null, Action<IServiceCollection>? also = null, string name = "Python box", FakeTimeProvider? time = null)
    {
        // Tomorrow's night: the client keeps cookies by the machine's own clock.
        FakeTimeProvider clock = time ?? new FakeTimeProvider(new DateTimeOffset(TimeProvider.System.GetUtcNow().UtcDateTime.Date, TimeSpan.Zero).AddDays(1).AddHours(3));
        RunningService service = await RunningService.StartAsync(settings: settings, also: services =>
        {
            services.AddSingleton<TimeProvider>(clock);
            also?.Invoke(services);
        });
        if (time is not null)
        {
            HttpClient again = service.Browser();
            (await again.PostAsJsonAsync("/api/session", new { name = "Ada", password = "quiet warm egg room" }, Stop)).EnsureSuccessStatusCode();
            return new NightHouse(service, clock, again);
        }

        var house = new NightHouse(service, clock, await service.ClaimedAsync());
        JsonElement incubator = await house.PostAsync("/api/incubators", new { name });
        house.Incubator = incubator.GetProperty("key").GetString()!;
        house.Hear(31.4);
        await Eventually.TrueAsync(() => house.Get<ProbeRegister>().Find(Probe)!.Recorded, "the record of the probe");
        await house.PostAsync($"/api/probes/{Probe}/placements", new { incubator = house.Incubator, where = "air" });
        house.Hear(31.4);
        return house;
    }

    public T Get<T>() where T : notnull => Service.Services.GetRequiredService<T>();

    public void Hear(double value)
    {
        Instant now = Get<ServiceClock>().Wall;
        Get<ProbeRegister>().Hear(Probe, now);
        Get<ReadingListeners>().Observe([new Reading(new SeriesKey(Probe, Quantity.Temperature), value, now, now, ReadingMarks.ArrivalTime)]);
    }

    /// <summary>The probe drifts over its danger limit, and the on-delay of a minute passes.</summary>
    public async Task<Guid> DriftAsync()
    {
        Hear(34);
        Time.Advance(TimeSpan.FromSeconds(60));
        await Eventually.TrueAsync(() => Get<IAlarmDesk>().Standing().Count == 1, "the alarm");
        return Get<IAlarmDesk>().Standing().Single().Occurrence;
    }

    /// <summary>It comes back, and the off-delay of two minutes passes.</summary>
    public void ComeBack()
    {
        Hear(31.4);
        Time.Advance(TimeSpan.FromSeconds(120));
    }

    public async Task OrderAsync(params object[] steps)
        => (await Keeper.PutAsJsonAsync("/api/call-out", new { steps }, Stop)).EnsureSuccessStatusCode();

    public static object Hook(string who, string address, int after = 0, int repeat = 60, string? secret = Secret)
        => new { who, channel = "webhook", address, secret, afterSeconds = after, repeatSeconds = repeat, enabled = true };

    public static object Mail(string who, string address, int after = 0, int repeat = 0)
        => new { who, channel = "mail", address, afterSeconds = after, repeatSeconds = repeat, enabled = true };

    public async Task<JsonElement> GetAsync(string path) => await Keeper.GetFromJsonAsync<JsonElement>(path, Stop);

    public async Task<JsonElement> PostAsync(string path, object body)
    {
        using HttpResponseMessage answer = await Keeper.PostAsJsonAsync(path, body, Stop);
        string text = await answer.Content.ReadAsStringAsync(Stop);
        Assert.True(answer.IsSuccessStatusCode, $"{path}: {text}");
        return JsonDocument.Parse(text).RootElement;
    }

    /// <summary>Waits while the clock of the house goes on, a tenth of a second at a time.</summary>
    public Task WaitAsync(Func<bool> condition, string what) => Eventually.TrueAsync(() =>
    {
        if (condition())
        {
            return true;
        }

        Time.Advance(TimeSpan.FromMilliseconds(100));
        return false;
    }, what);

    /// <summary>Waits until everything that was handed to the records before is on disk.</summary>
    public Task WrittenAsync() => Get<RecordsWriter>().Add((_, _) => Task.CompletedTask).WaitAsync(Stop);

    /// <summary>Words of the journal, newest first, once they are written.</summary>
    public async Task<List<(string Event, string Words)>> JournalAsync()
    {
        await WrittenAsync();
        JsonElement lines = await GetAsync("/api/alarms/journal");
        return [.. lines.EnumerateArray().Select(l => (l.GetProperty("event").GetString()!, l.GetProperty("words").GetString()!))];
    }

    public async ValueTask DisposeAsync()
    {
        Keeper.Dispose();
        await Service.DisposeAsync();
    }
}
