using Incubation.Service.Facility;
using Incubation.Service.Hosting;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;
using NodaTime;
using NodaTime.Text;

namespace Incubation.Service.Probes;

/// <summary>What came of placing a probe.</summary>
internal enum PlacingOutcome
{
    Done,
    UnknownProbe,
    UnknownIncubator,

    /// <summary>There is no such tub, or it stands in another incubator.</summary>
    UnknownTub,

    /// <summary>The time lies before the last placement ended or began; <see cref="Placing.After"/> says where it may start.</summary>
    TooEarly,
}

/// <summary>What came of placing a probe, and the earliest time allowed where that was the reason.</summary>
internal sealed record Placing(PlacingOutcome Outcome, Instant? After = null);

/// <summary>The changes a keeper makes to probes.</summary>
internal sealed class ProbeChanges(FacilityRegistry registry, ProbeRegister register, ServiceClock clock)
{
    /// <summary>Names a probe; null takes the name away. False when it was never heard.</summary>
    public Task<bool> NameAsync(string key, string? name, CancellationToken cancellationToken)
        => registry.ChangeAsync(
            async (context, token) =>
            {
                ProbeRecord? record = await register.RecordOfAsync(context, key, token);
                if (record is null)
                {
                    return false;
                }

                record.Name = name;
                return true;
            },
            () => Known(key, probe => probe.Name = name),
            cancellationToken);

    /// <summary>Places a probe; where it was before ends at the same moment. The same place again changes nothing.</summary>
    public Task<Placing> PlaceAsync(
        string key, string incubator, string where, string? tub, Instant? from, string by, CancellationToken cancellationToken)
        => registry.ChangeAsync(
            async (context, token) =>
            {
                ProbeRecord? record = await register.RecordOfAsync(context, key, token);
                if (record is null)
                {
                    return new Placing(PlacingOutcome.UnknownProbe);
                }

                if (!await context.Incubators.AnyAsync(i => i.Key == incubator && i.RetiredAt == null, token))
                {
                    return new Placing(PlacingOutcome.UnknownIncubator);
                }

                if (tub is not null && (!await context.Tubs.AnyAsync(t => t.Key == tub, token)
                    || await context.TubPlacements.AnyAsync(t => t.Tub == tub && t.Until == null && t.Incubator != incubator, token)))
                {
                    return new Placing(PlacingOutcome.UnknownTub);
                }

                PlacementRecord? last = await context.Placements.Where(p => p.Probe == key)
                    .OrderByDescending(p => p.From).FirstOrDefaultAsync(token);
                if (last is { Until: null } && last.Incubator == incubator && last.Where == where && last.Tub == tub && from is null)
                {
                    // A second tap on a phone.
                    return new Placing(PlacingOutcome.Done);
                }

                Instant now = clock.Wall;
                Instant? earliest = last?.Until ?? (last?.From + Duration.FromMilliseconds(1));
                if (from < earliest)
                {
                    return new Placing(PlacingOutcome.TooEarly, earliest);
                }

                Instant begin = from ?? (now < earliest ? earliest.Value : now);
                if (last is { Until: null })
                {
                    last.Until = begin;
                }

                context.Placements.Add(new PlacementRecord
                {
                    Id = Guid.NewGuid(),
                    Probe = key,
                    Incubator = incubator,
                    Where = where,
                    Tub = tub,
                    From = begin,
                    By = by,
                    EnteredAt = now,
                });
                return new Placing(PlacingOutcome.Done);
            },
            () => Known(key, probe => probe.Recorded = true),
            cancellationToken);

    /// <summary>Takes a probe out of its incubator now.</summary>
    public Task<ChangeOutcome> TakeOutAsync(string key, CancellationToken cancellationToken)
        => registry.ChangeAsync(
            async (context, token) =>
            {
                PlacementRecord? current = await context.Placements.FirstOrDefaultAsync(p => p.Probe == key && p.Until == null, token);
                if (current is null)
                {
                    return register.Find(key) is null ? ChangeOutcome.Unknown : ChangeOutcome.Refused;
                }

                Instant now = clock.Wall;
                current.Until = now > current.From ? now : current.From;
                return ChangeOutcome.Done;
            },
            null,
            cancellationToken);

    private void Known(string key, Action<KnownProbe> change)
    {
        if (register.Find(key) is { } probe)
        {
            change(probe);
        }
    }

    /// <summary>A time as it stands in a request: RFC 3339 with Z or an offset.</summary>
    public static bool TryReadTime(string text, out Instant time)
    {
        ParseResult<OffsetDateTime> parsed = OffsetDateTimePattern.Rfc3339.Parse(text);
        time = parsed.Success ? parsed.Value.ToInstant() : default;
        return parsed.Success;
    }
}
