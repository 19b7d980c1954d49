using System.Text.Json.Serialization;
using Incubation.Storage.Records;
using NodaTime;

namespace Incubation.Service.Care;

/// <summary>What a person did to a tub or an incubator.</summary>
/// <param name="On">"tub" or "incubator".</param>
/// <param name="Key">Its key.</param>
/// <param name="Kind">"lid", "water", "fan", "move", "turn", "cleaning" or "other".</param>
/// <param name="WaterGrams">Water added, g; with "water" only.</param>
/// <param name="Note">Free text; a must with "other".</param>
/// <param name="At">When.</param>
internal sealed record CareRequest(string? On, string? Key, string? Kind, double? WaterGrams, string? Note, string? At);

/// <summary>One line of the care log.</summary>
/// <param name="Id">Its id.</param>
/// <param name="On">"tub" or "incubator".</param>
/// <param name="Key">Key of the tub or incubator.</param>
/// <param name="Name">What it is called.</param>
/// <param name="Kind">What was done.</param>
/// <param name="WaterGrams">Water added, g, or null.</param>
/// <param name="Note">The note, or null.</param>
/// <param name="At">When.</param>
/// <param name="By">Who.</param>
/// <param name="EnteredAt">When it reached the service.</param>
internal sealed record CareView(
    Guid Id, string On, string Key, string Name, string Kind, double? WaterGrams, string? Note, Instant At, string By, Instant EnteredAt)
{
    /// <summary>What was said of the line that this answers.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public IReadOnlyList<string>? Said { get; init; }

    public static CareView Of(CareRecord row, string name)
        => new(row.Id, row.On, row.Key, name, row.Kind, row.WaterGrams, row.Note, row.At, row.By, row.EnteredAt);
}
