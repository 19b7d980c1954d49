using Incubation.Core.Readings;
using Incubation.Service.Broker;
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

/// <summary>What waits in the file that stands by for a disk that takes nothing.</summary>
internal sealed record SpoolKeepingView(long UsedBytes, long Bytes);

internal sealed class StoreKeepingPart(IReadingStore store, IStoreState state) : IKeepingPart
{
    public string Field => "store";

    public object? View()
    {
        if (store is not SqliteReadingStore sqlite)
        {
            return null;
        }

        StoreState now = state.State;
        try
        {
            KeepingFacts facts = sqlite.Facts();
            string kind = now.Kind != StoreKind.Well ? now.Kind.ToString().ToLowerInvariant()
                : facts.LastCheck is { Ok: false } ? "damaged"
                : "well";
            return new StoreKeepingView(
                kind, kind == "damaged" ? facts.LastCheck!.Words : now.Words, facts.Bytes, facts.Oldest, facts.SealedDays, facts.RawDays, facts.LastCheck);
        }
        catch (StoreUnavailableException trouble)
        {
            return new StoreKeepingView("unreadable", trouble.Message, null, null, null, null, null);
        }
    }
}

internal sealed class SpoolKeepingPart(IStoreState state) : IKeepingPart
{
    public string Field => "spool";

    public object? View() => Of(state.State);

    private static SpoolKeepingView Of(StoreState now) => new(now.SpoolUsedBytes, now.SpoolBytes);
}

internal sealed class CopyKeepingPart(Copies copies) : IKeepingPart
{
    public string Field => "copy";

    public object? View() => copies.View();
}

internal sealed class SourceKeepingPart(IReadingSource source) : IKeepingPart
{
    public string Field => "source";

    public object? View() => source.Now();
}

internal sealed class ClockKeepingPart(ClockTrust trust) : IKeepingPart
{
    public string Field => "clock";

    public object? View() => trust.Now;
}

internal sealed class RetentionKeepingPart(IOptions<IncubationOptions> options) : IKeepingPart
{
    public string Field => "retention";

    public object? View() => options.Value.Readings.KeepDays.OrderBy(kept => kept.Key, StringComparer.Ordinal)
        .Select(kept => new RetentionView(kept.Key, kept.Value)).ToArray();
}
