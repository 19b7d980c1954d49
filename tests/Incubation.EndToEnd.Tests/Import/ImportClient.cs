using System.Net.Http.Headers;
using System.Text.Json.Nodes;
using Incubation.EndToEnd.Tests.Instruments;

namespace Incubation.EndToEnd.Tests.Import;

/// <summary>One import over HTTP, as the page does it.</summary>
internal sealed class ImportClient(ServiceClient client, Uri address, string id)
{
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(3);

    public string Id => id;

    /// <summary>Sends a file from the disk and takes the guess, with a key for each shelf.</summary>
    public static async Task<ImportClient> SendAsync(ServiceClient client, Uri address, ShelfFile file, CancellationToken stop)
    {
        using HttpClient http = new(client.Handler, disposeHandler: false) { BaseAddress = address, Timeout = Timeout.InfiniteTimeSpan };
        await using FileStream stream = File.OpenRead(file.Path);
        using HttpRequestMessage request = new(HttpMethod.Post, "/api/imports?fileName=shelf.csv") { Content = new StreamContent(stream) };
        request.Content.Headers.ContentType = new MediaTypeHeaderValue("text/csv");
        request.Headers.Add("Origin", address.GetLeftPart(UriPartial.Authority));
        using HttpResponseMessage answer = await http.SendAsync(request, stop);
        string text = await answer.Content.ReadAsStringAsync(stop);
        JsonNode view = answer.IsSuccessStatusCode ? JsonNode.Parse(text)! : throw new InvalidOperationException(text);

        JsonNode plan = view["guess"]!.DeepClone();
        plan["probes"] = new JsonArray([.. Enumerable.Range(0, ShelfFile.Probes).Select(probe => new JsonObject { ["name"] = $"Shelf {probe}", ["key"] = ShelfFile.Key(probe) })]);
        string id = view["id"]!.GetValue<string>();
        await client.SendAsync(HttpMethod.Put, $"/api/imports/{id}/columns", plan, stop);
        return new ImportClient(client, address, id);
    }

    /// <summary>The same import after a restart of the service, which has other ports.</summary>
    public ImportClient At(ServiceClient later, Uri there) => new(later, there, id);

    public Task<JsonNode> LookAsync(CancellationToken stop) => client.GetAsync($"/api/imports/{id}", stop);

    public Task<JsonNode> DoAsync(string what, CancellationToken stop) => client.SendAsync(HttpMethod.Post, $"/api/imports/{id}/{what}", new JsonObject(), stop);

    /// <summary>Waits for it to have done so many lines, or to have ended.</summary>
    public Task<JsonNode> DoneAsync(long lines, CancellationToken stop) => Waiting.ForAsync(async () =>
    {
        JsonNode now = await LookAsync(stop);
        return now["running"] is null || now["run"]?["lines"]?.GetValue<long>() >= lines ? now : null;
    }, Patience * (1 + (lines / 1_000_000)), $"{address} to have done {lines} lines", stop);

    /// <summary>Waits for what runs to say so.</summary>
    public Task<JsonNode> SaysAsync(string words, CancellationToken stop) => Waiting.ForAsync(async () =>
    {
        JsonNode now = await LookAsync(stop);
        return now["run"]?["words"]?.GetValue<string>().Contains(words, StringComparison.Ordinal) == true ? now : null;
    }, Patience, $"the import to say \"{words}\"", stop);

    public Task<JsonNode> EndAsync(CancellationToken stop) => DoneAsync(long.MaxValue / 2_000_000, stop);
}
