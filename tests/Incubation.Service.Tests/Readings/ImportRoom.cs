using System.Net.Http.Json;
using System.Text;
using System.Text.Json;
using Incubation.Core.Readings;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using Xunit;

namespace Incubation.Service.Tests.Readings;

/// <summary>What tests do with files of readings over HTTP.</summary>
internal static class ImportRoom
{
    public static readonly Instant Start = Instant.FromUtc(2026, 11, 20, 12, 0);

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    /// <summary>An export of one probe, a reading a minute.</summary>
    public static string Export(int lines, string probe = "hazel-air", string text = CsvReadings.Header)
        => text + string.Concat(Enumerable.Range(0, lines).Select(i =>
            FormattableString.Invariant($"{Start + Duration.FromMinutes(i)},{probe},temperature,Cel,{30 + i % 100 / 50.0},31,\r\n")));

    public static Task<HttpResponseMessage> TrySendAsync(this IntakeHost host, byte[] file, string name = "shelf.csv")
        => host.Http.PostAsync($"/api/imports?fileName={Uri.EscapeDataString(name)}", new ByteArrayContent(file), Token);

    /// <summary>Sends a file; returns the import.</summary>
    public static async Task<JsonElement> SendFileAsync(this IntakeHost host, string file)
    {
        using HttpResponseMessage answer = await host.TrySendAsync(Encoding.UTF8.GetBytes(file));
        return await OkAsync(answer);
    }

    /// <summary>Takes the guess as it is, or with other probes.</summary>
    public static async Task<JsonElement> ConfirmAsync(this IntakeHost host, JsonElement import, params (string Name, string Key)[] probes)
    {
        Dictionary<string, object?> plan = import.GetProperty("guess").EnumerateObject().ToDictionary(one => one.Name, one => (object?)one.Value);
        plan["probes"] = probes.Select(probe => new { name = probe.Name, key = probe.Key });
        using HttpResponseMessage answer = await host.PutAsync($"/api/imports/{Id(import)}/columns", plan);
        return await OkAsync(answer);
    }

    public static async Task<JsonElement> BeginAsync(this IntakeHost host, JsonElement import, bool dry = false)
    {
        using HttpResponseMessage answer = await host.PostAsync($"/api/imports/{Id(import)}/{(dry ? "dry-runs" : "runs")}", new { });
        return await OkAsync(answer);
    }

    public static async Task<JsonElement> StopAsync(this IntakeHost host, JsonElement import)
    {
        using HttpResponseMessage answer = await host.PostAsync($"/api/imports/{Id(import)}/stops", new { });
        return await OkAsync(answer);
    }

    public static Task<JsonElement> LookAsync(this IntakeHost host, JsonElement import) => host.GetAsync($"/api/imports/{Id(import)}");

    /// <summary>Waits until nothing of it runs any more.</summary>
    public static async Task<JsonElement> EndAsync(this IntakeHost host, JsonElement import)
    {
        JsonElement now = import;
        await Hosting.Eventually.TrueAsync(async () => (now = await host.LookAsync(import)).GetProperty("running").ValueKind == JsonValueKind.Null, "the import to end");
        return now;
    }

    /// <summary>Sends, confirms and brings in a whole file.</summary>
    public static async Task<JsonElement> BringInAsync(this IntakeHost host, string file, params (string Name, string Key)[] probes)
    {
        JsonElement import = await host.ConfirmAsync(await host.SendFileAsync(file), probes);
        await host.BeginAsync(import);
        return await host.EndAsync(import);
    }

    public static IReadOnlyList<Reading> Stored(this IntakeHost host, string probe, Quantity quantity)
        => host.Services.GetRequiredService<IReadingStore>().Read(new SeriesKey(probe, quantity), Instant.FromUtc(2000, 1, 1, 0, 0), Instant.FromUtc(2100, 1, 1, 0, 0));

    public static string Id(JsonElement import) => import.GetProperty("id").GetString()!;

    public static long Number(this JsonElement outcome, string of, string name) => outcome.GetProperty(of).GetProperty(name).GetInt64();

    private static async Task<JsonElement> OkAsync(HttpResponseMessage answer)
    {
        Assert.True(answer.IsSuccessStatusCode, await answer.Content.ReadAsStringAsync(Token));
        return await answer.Content.ReadFromJsonAsync<JsonElement>(Token);
    }
}
