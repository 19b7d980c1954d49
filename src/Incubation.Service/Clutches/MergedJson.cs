using System.Text.Json;
using System.Text.Json.Nodes;

namespace Incubation.Service.Clutches;

/// <summary>
/// Changes by what was sent, as RFC 7396 (JSON Merge Patch) has it: a member that is left out stays, null takes it away. So two
/// people who change different things of a clutch both get their way.
/// </summary>
internal static class MergedJson
{
    /// <exception cref="BadHttpRequestException">What was sent is no object, or a member has the wrong kind of value.</exception>
    public static T Merge<T>(T current, JsonElement sent, JsonSerializerOptions json)
    {
        if (sent.ValueKind != JsonValueKind.Object)
        {
            throw new BadHttpRequestException("A JSON object is needed.");
        }

        JsonObject merged = JsonSerializer.SerializeToNode(current, json)!.AsObject();
        foreach (JsonProperty member in sent.EnumerateObject())
        {
            merged[member.Name] = member.Value.ValueKind == JsonValueKind.Null ? null : JsonNode.Parse(member.Value.GetRawText());
        }

        try
        {
            return merged.Deserialize<T>(json)!;
        }
        catch (JsonException wrong)
        {
            throw new BadHttpRequestException("A member has the wrong kind of value.", StatusCodes.Status400BadRequest, wrong);
        }
    }
}
