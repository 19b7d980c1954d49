using System.Net;
using System.Net.Http.Headers;
using System.Net.Http.Json;
using System.Text.Json;
using Incubation.Service.Facility;
using Incubation.Service.Tests.Hosting;
using Incubation.Storage.Records;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Time.Testing;
using NodaTime;
using Xunit;

namespace Incubation.Service.Tests.Clutches;

/// <summary>The real service with a clock that tests set, claimed by Ada, who is signed in.</summary>
internal sealed class EggRoom : IAsyncDisposable
{
    /// <summary>Local date of the start of every test: the facility is in UTC unless a test says otherwise.</summary>
    public const string Today = "2026-11-25";

    private readonly RunningService _service;

    private EggRoom(RunningService service, HttpClient http, FakeTimeProvider time) => (_service, Http, Time) = (service, http, time);

    public HttpClient Http { get; }

    public FakeTimeProvider Time { get; }

    public IServiceProvider Services => _service.Services;

    public string DataDirectory => _service.DataDirectory;

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    public static async Task<EggRoom> OpenAsync(string zone = "Etc/UTC", Action<IServiceCollection>? also = null)
    {
        var time = new FakeTimeProvider(new DateTimeOffset(2026, 11, 25, 3, 0, 0, TimeSpan.Zero));
        RunningService service = await RunningService.StartAsync(
            settings: new Dictionary<string, string?> { ["Incubation:Facility:Zone"] = zone },
            also: services =>
            {
                services.AddSingleton<TimeProvider>(time);
                also?.Invoke(services);
            });
        return new EggRoom(service, await service.ClaimedAsync(), time);
    }

    public Task<JsonElement> GetAsync(string path) => Http.GetFromJsonAsync<JsonElement>(path, Stop);

    public Task<Answer> PostAsync(string path, object body) => Answer.OfAsync(Http.PostAsJsonAsync(path, body, Stop));

    public Task<Answer> PutAsync(string path, object body) => Answer.OfAsync(Http.PutAsJsonAsync(path, body, Stop));

    public Task<Answer> DeleteAsync(string path) => Answer.OfAsync(Http.DeleteAsync(path, Stop));

    public async Task<Answer> PutFileAsync(string path, byte[] file, string type)
    {
        using var content = new ByteArrayContent(file);
        content.Headers.ContentType = new MediaTypeHeaderValue(type);
        return await Answer.OfAsync(Http.PutAsync(path, content, Stop));
    }

    /// <summary>An incubator, with a probe placed in it unless told otherwise; returns its key.</summary>
    public async Task<string> IncubatorAsync(string name, bool probe = true, string where = "air")
    {
        string key = (await PostAsync("/api/incubators", new { name })).Is(HttpStatusCode.Created).Text("key")!;
        if (probe)
        {
            await Services.GetRequiredService<FacilityRegistry>().ChangeAsync(
                (context, _) =>
                {
                    context.Probes.Add(new ProbeRecord { Key = $"{key}-air", FirstHeardAt = Now });
                    context.Placements.Add(new PlacementRecord
                    {
                        Id = Guid.CreateVersion7(),
                        Probe = $"{key}-air",
                        Incubator = key,
                        Where = where,
                        From = Now,
                        By = "Ada",
                        EnteredAt = Now,
                    });
                    return Task.FromResult(0);
                },
                null, Stop);
        }

        return key;
    }

    /// <summary>A clutch of ball pythons; returns the answer to its entry.</summary>
    public Task<Answer> ClutchAsync(object? more = null)
    {
        var body = new Dictionary<string, object?>
        {
            ["species"] = "python-regius",
            ["dam"] = "Juno",
            ["sire"] = "Otto",
            ["layDate"] = Today,
            ["eggCount"] = 6,
        };
        foreach (System.Reflection.PropertyInfo member in more?.GetType().GetProperties() ?? [])
        {
            body[member.Name] = member.GetValue(more);
        }

        return PostAsync("/api/clutches", body);
    }

    public Instant Now => Instant.FromDateTimeOffset(Time.GetUtcNow());

    public async ValueTask DisposeAsync()
    {
        Http.Dispose();
        await _service.DisposeAsync();
    }
}

/// <summary>Status and body of an answer, read whole.</summary>
internal sealed record Answer(HttpStatusCode Status, string? Type, JsonElement Body)
{
    public static async Task<Answer> OfAsync(Task<HttpResponseMessage> sent)
    {
        using HttpResponseMessage answer = await sent;
        string text = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        return new Answer(
            answer.StatusCode, answer.Content.Headers.ContentType?.MediaType,
            text.Length == 0 ? default : JsonDocument.Parse(text).RootElement);
    }

    public Answer Is(HttpStatusCode status)
    {
        Assert.True(Status == status, $"{Status} instead of {status}: {Body}");
        return this;
    }

    /// <summary>A problem document whose words for the field contain <paramref name="words"/>.</summary>
    public Answer Refuses(string field, string words = "")
    {
        Is(HttpStatusCode.BadRequest);
        Assert.Equal("application/problem+json", Type);
        Assert.True(Body.GetProperty("errors").TryGetProperty(field, out JsonElement said), $"no words for {field}: {Body}");
        Assert.Contains(said.EnumerateArray(), s => s.GetString()!.Contains(words, StringComparison.Ordinal));
        return this;
    }

    public string? Text(string name) => Body.GetProperty(name).GetString();

    public string[] Said => [.. Body.GetProperty("said").EnumerateArray().Select(s => s.GetString()!)];
}
