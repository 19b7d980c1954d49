using Incubation.Core.Readings;
using Incubation.Service.Hosting;
using Incubation.Storage.Readings;
using Incubation.Storage.Readings.Keeping;
using Microsoft.Extensions.Options;
using NodaTime;

namespace Incubation.Service.Readings;

/// <summary>One part of what is told about how readings are kept. Each room that keeps something adds its own.</summary>
internal interface IKeepingPart
{
    /// <summary>Name of the field it fills.</summary>
    string Field { get; }

    /// <summary>What it says now; null when there is nothing of the kind.</summary>
    object? View();
}

/// <summary>The readings file.</summary>
internal sealed record StoreKeepingView(
    string Kind, string Words, long? Bytes, Instant? Oldest, long? SealedDays, long? RawDays, StoreCheck? LastCheck);

/// <summary>How long the readings of a quantity are kept.</summary>
internal sealed record RetentionView(string Quantity, int Days);

internal sealed class StoreKeepingPart(IReadingStore store) : IKeepingPart
{
    public string Field => "store";

    public object? View()
    {
        if (store is not SqliteReadingStore sqlite)
        {
            return null;
        }

        try
        {
            KeepingFacts facts = sqlite.Facts();
            return new StoreKeepingView(
                facts.LastCheck is { Ok: false } ? "damaged" : "well", facts.LastCheck?.Words ?? "The readings file was not looked over yet; that is done at night.",
                facts.Bytes, facts.Oldest, facts.SealedDays, facts.RawDays, facts.LastCheck);
        }
        catch (StoreUnavailableException trouble)
        {
            return new StoreKeepingView("unreadable", trouble.Message, null, null, null, null, null);
        }
    }
}

internal sealed class RetentionKeepingPart(IOptions<IncubationOptions> options) : IKeepingPart
{
    public string Field => "retention";

    public object? View() => options.Value.Readings.KeepDays.OrderBy(kept => kept.Key, StringComparer.Ordinal)
        .Select(kept => new RetentionView(kept.Key, kept.Value)).ToArray();
}
