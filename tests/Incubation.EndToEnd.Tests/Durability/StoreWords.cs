using System.Text.Json.Nodes;
using Incubation.EndToEnd.Tests.Instruments;
using Incubation.EndToEnd.Tests.Night;

namespace Incubation.EndToEnd.Tests.Durability;

/// <summary>How the store is, by what the first screen says to people.</summary>
internal static class StoreWords
{
    public const string Well = "well", Spooling = "spooling", Refusing = "refusing";

    public static async Task<string> OfAsync(EggRoom room, CancellationToken stop)
    {
        JsonNode headline = (await room.Owner.GetAsync("/api/now", stop))["headline"]!;
        string said = $"{headline["sentence"]} {headline["next"]} {headline["detail"]}";
        return said.Contains("Probes keep their readings", StringComparison.Ordinal) ? Refusing
            : said.Contains("spool file", StringComparison.Ordinal) ? Spooling
            : Well;
    }

    /// <summary>Waits until the first screen says so, doing something in between.</summary>
    public static Task UntilAsync(EggRoom room, string wanted, Action meanwhile, CancellationToken stop) => Waiting.UntilAsync(
        async () =>
        {
            meanwhile();
            return await OfAsync(room, stop) == wanted;
        },
        TimeSpan.FromSeconds(90), $"the first screen to say that the store is {wanted}", stop);
}
