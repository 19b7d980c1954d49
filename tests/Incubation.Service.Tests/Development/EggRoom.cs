using System.Net.Http.Json;
using System.Text.Json;
using Incubation.Core.Readings;
using Incubation.Service.Clutches;
using Incubation.Service.Facility;
using Incubation.Service.People;
using Incubation.Service.Readings;
using Incubation.Service.Tests.Hosting;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Time.Testing;
using NodaTime;
using Xunit;

namespace Incubation.Service.Tests.Development;

/// <summary>The real service with a facility, clutches and readings that a test puts there; its clock is the test's.</summary>
internal sealed class EggRoom : IAsyncDisposable
{
    private EggRoom(RunningService service, FakeTimeProvider time, HttpClient http) => (Service, Time, Http) = (service, time, http);

    public RunningService Service { get; }

    public FakeTimeProvider Time { get; }

    public HttpClient Http { get; }

    public IServiceProvider Services => Service.Services;

    public static async Task<EggRoom> StartAsync(Instant now)
    {
        var time = new FakeTimeProvider(now.ToDateTimeOffset());
        RunningService service = await RunningService.StartAsync(also: services => services.AddSingleton<TimeProvider>(time));
        return new EggRoom(service, time, await SignedInAsync(service));
    }

    // The test's clock is behind this machine's, so a client that keeps cookies itself would throw the session away as expired.
    private static async Task<HttpClient> SignedInAsync(RunningService service)
    {
        var client = new HttpClient(new SocketsHttpHandler { UseCookies = false }) { BaseAddress = new Uri($"http://127.0.0.1:{service.HttpPort}") };
        client.DefaultRequestHeaders.Add("Sec-Fetch-Site", "same-origin");
        string code = service.Services.GetRequiredService<ClaimCode>().Shown;
        using HttpResponseMessage claimed = await client.PostAsJsonAsync(
            "/api/claim", new { code, name = "Ada", password = "quiet warm egg room" }, TestContext.Current.CancellationToken);
        claimed.EnsureSuccessStatusCode();
        client.DefaultRequestHeaders.Add("Cookie", claimed.Headers.GetValues("Set-Cookie").Select(cookie => cookie.Split(';')[0]));
        return client;
    }

    /// <summary>An incubator with a band of 30.5 to 32.5 °C since long ago.</summary>
    public Task IncubatorAsync(string key, double low = 30.5, double high = 32.5) => SeedAsync(records =>
    {
        records.Incubators.Add(new IncubatorRecord { Key = key, Name = key, CreatedAt = Instant.FromUtc(2025, 1, 1, 0, 0) });
        records.Bands.Add(new BandRecord
        {
            Id = Guid.NewGuid(),
            Incubator = key,
            Quantity = "temperature",
            DangerLow = low - 1,
            WarningLow = low,
            WarningHigh = high,
            DangerHigh = high + 1,
            Deadband = 0.2,
            SilentAfterSeconds = 600,
            From = Instant.FromUtc(2025, 1, 1, 0, 0),
            By = "Ada",
        });
    });

    public Task ProbeAsync(string key, string incubator, string where, Instant from, Instant? until = null) => SeedAsync(records =>
    {
        if (records.Probes.Find(key) is null)
        {
            records.Probes.Add(new ProbeRecord { Key = key, FirstHeardAt = from });
        }

        records.Placements.Add(new PlacementRecord
        {
            Id = Guid.NewGuid(),
            Probe = key,
            Incubator = incubator,
            Where = where,
            From = from,
            Until = until,
            By = "Ada",
            EnteredAt = from,
        });
    });

    public Task TubAsync(string key, params (string Incubator, Instant From)[] stays) => SeedAsync(records =>
    {
        records.Tubs.Add(new TubRecord { Key = key, Name = key.Replace('-', ' '), Substrate = "vermiculite", By = "Ada" });
        records.TubPlacements.AddRange(stays.Select((stay, i) => new TubPlacementRecord
        {
            Id = Guid.NewGuid(),
            Tub = key,
            Incubator = stay.Incubator,
            From = stay.From,
            Until = i + 1 < stays.Length ? stays[i + 1].From : null,
            By = "Ada",
            EnteredAt = stay.From,
        }));
    });

    /// <summary>A clutch with eggs 1 to <paramref name="eggs"/> in a tub since noon of its lay date.</summary>
    public Task ClutchAsync(
        string key, LocalDate laid, string? tub, int eggs = 8, string species = "python-regius", Instant? finishedAt = null, string? sire = "Birch")
        => SeedAsync(records =>
        {
            Guid id = Guid.NewGuid();
            Instant noon = laid.At(LocalTime.Noon).InUtc().ToInstant();
            records.Clutches.Add(new ClutchRecord
            {
                Id = id,
                Key = key,
                Label = key.ToUpperInvariant(),
                Species = species,
                Dam = "Alder",
                Sire = sire,
                LayDate = laid,
                By = "Ada",
                EnteredAt = noon,
                FinishedAt = finishedAt,
            });
            records.Eggs.AddRange(Enumerable.Range(1, eggs).Select(number => new EggRecord
            {
                Id = Guid.NewGuid(),
                Clutch = id,
                Number = number,
                X = 0.5,
                Y = 0.5,
                By = "Ada",
                EnteredAt = noon,
            }));
            if (tub is not null)
            {
                records.ClutchPlacements.Add(new ClutchPlacementRecord
                {
                    Id = Guid.NewGuid(),
                    Clutch = id,
                    Tub = tub,
                    From = noon,
                    By = "Ada",
                    EnteredAt = noon,
                });
            }
        });

    /// <summary>Looks and outcomes of single eggs.</summary>
    public Task EggsAsync(string clutch, Func<int, Guid, IEnumerable<object>> rows) => SeedAsync(records =>
    {
        Guid id = records.Clutches.Single(c => c.Key == clutch).Id;
        records.AddRange(records.Eggs.Where(e => e.Clutch == id).AsEnumerable().SelectMany(egg => rows(egg.Number, egg.Id)));
    });

    /// <summary>Writes records past the rooms, then has them read again.</summary>
    public async Task SeedAsync(Action<RecordsContext> seed)
    {
        await using RecordsContext records = await Services.GetRequiredService<IDbContextFactory<RecordsContext>>()
            .CreateDbContextAsync(TestContext.Current.CancellationToken);
        seed(records);
        await records.SaveChangesAsync(TestContext.Current.CancellationToken);
        await Services.GetRequiredService<FacilityRegistry>().LoadAsync(TestContext.Current.CancellationToken);
        await Services.GetRequiredService<ClutchBook>().LoadAsync(TestContext.Current.CancellationToken);
    }

    /// <summary>Readings on the usual way: heard by everyone, then stored.</summary>
    public async Task ReadAsync(string probe, IEnumerable<(Instant At, double Celsius)> values)
    {
        Reading[] readings =
        [
            .. values.Select(v => new Reading(new SeriesKey(probe, Quantity.Temperature), v.Celsius, v.At, v.At, ReadingMarks.None)),
        ];
        Services.GetRequiredService<ReadingListeners>().Observe(readings);
        await Services.GetRequiredService<IReadingStore>().StoreAsync(readings, TestContext.Current.CancellationToken);
    }

    public BookedClutch Clutch(string key) => Services.GetRequiredService<ClutchBook>().Find(key)!;

    public async Task<ForecastView> ForecastAsync(string key) => (await PageAsync(key)).Forecast!;

    public async Task<PageForecast> PageAsync(string key) => await Services.GetRequiredService<IClutchForecast>()
        .PageAsync(Clutch(key), Core.Development.TemperatureScale.Celsius, TestContext.Current.CancellationToken);

    public Task<JsonElement> GetAsync(string path) => Http.GetFromJsonAsync<JsonElement>(path, TestContext.Current.CancellationToken);

    /// <summary>One value every <paramref name="minutes"/> from a time, inclusive, to another, exclusive.</summary>
    public static IEnumerable<(Instant At, double Celsius)> Every(double minutes, Instant from, Instant until, Func<Instant, double> celsius)
    {
        for (Instant at = from; at < until; at += Duration.FromMinutes(minutes))
        {
            yield return (at, celsius(at));
        }
    }

    public static IEnumerable<(Instant At, double Celsius)> Every(double minutes, Instant from, Instant until, double celsius)
        => Every(minutes, from, until, _ => celsius);

    public async ValueTask DisposeAsync()
    {
        Http.Dispose();
        await Service.DisposeAsync();
    }
}
