using Incubation.Core;
using Incubation.Core.Readings;
using Incubation.Service.Hosting;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Incubation.Service.Facility;

/// <summary>How a change of the facility ended.</summary>
internal enum ChangeOutcome
{
    Done,
    Unknown,
    Refused,
}

/// <summary>The changes a keeper makes to incubators and bands.</summary>
internal sealed class FacilityChanges(FacilityRegistry registry, ServiceClock clock)
{
    /// <summary>Puts an incubator into use, with the default bands; null when the facility is full.</summary>
    public Task<IncubatorView?> AddIncubatorAsync(string name, int? position, string by, CancellationToken cancellationToken)
        => registry.ChangeAsync<IncubatorView?>(
            async (context, token) =>
            {
                List<IncubatorRecord> all = await context.Incubators.AsNoTracking().ToListAsync(token);
                List<IncubatorRecord> inUse = [.. all.Where(i => i.RetiredAt is null)];
                if (inUse.Count >= Limits.Incubators)
                {
                    return null;
                }

                Instant now = clock.Wall;
                // Keys of retired incubators stay taken: their history is theirs.
                HashSet<string> taken = [.. all.Select(i => i.Key)];
                IncubatorRecord incubator = new()
                {
                    Key = KeyFromName.Make(name, "incubator", taken.Contains),
                    Name = name,
                    Position = position ?? (inUse.Count == 0 ? 0 : Math.Min(inUse.Max(i => i.Position) + 1, Limits.Incubators - 1)),
                    CreatedAt = now,
                };
                context.Incubators.Add(incubator);
                foreach ((Quantity quantity, BandView band) in BandDefaults.All)
                {
                    context.Bands.Add(NewBand(incubator.Key, quantity, band, now, by));
                }

                return new IncubatorView(incubator.Key, incubator.Name, incubator.Position);
            },
            null,
            cancellationToken);

    /// <summary>Renames and moves an incubator; its key stays. Null when there is none.</summary>
    public Task<IncubatorView?> UpdateIncubatorAsync(string key, string name, int? position, CancellationToken cancellationToken)
        => registry.ChangeAsync<IncubatorView?>(
            async (context, token) =>
            {
                IncubatorRecord? incubator = await InUseAsync(context, key, token);
                if (incubator is null)
                {
                    return null;
                }

                incubator.Name = name;
                incubator.Position = position ?? incubator.Position;
                return new IncubatorView(incubator.Key, incubator.Name, incubator.Position);
            },
            null,
            cancellationToken);

    /// <summary>Takes an incubator out of use. Refused while probes or clutches are in it: nobody would be called for them any more.</summary>
    public Task<ChangeOutcome> RetireIncubatorAsync(string key, CancellationToken cancellationToken)
        => registry.ChangeAsync(
            async (context, token) =>
            {
                IncubatorRecord? incubator = await InUseAsync(context, key, token);
                if (incubator is null)
                {
                    return ChangeOutcome.Unknown;
                }

                if (await context.Placements.AnyAsync(p => p.Incubator == key && p.Until == null, token)
                    || await context.TubPlacements.AnyAsync(
                        t => t.Incubator == key && t.Until == null && context.ClutchPlacements.Any(c => c.Tub == t.Tub && c.Until == null), token))
                {
                    return ChangeOutcome.Refused;
                }

                incubator.RetiredAt = clock.Wall;
                return ChangeOutcome.Done;
            },
            null,
            cancellationToken);

    /// <summary>Sets a band; the ones before it stay as evidence. False when there is no such incubator.</summary>
    public Task<bool> SetBandAsync(string incubator, Quantity quantity, BandView band, string by, CancellationToken cancellationToken)
        => registry.ChangeAsync(
            async (context, token) =>
            {
                if (await InUseAsync(context, incubator, token) is null)
                {
                    return false;
                }

                Instant? last = await context.Bands
                    .Where(b => b.Incubator == incubator && b.Quantity == quantity.Name)
                    .OrderByDescending(b => b.From).Select(b => (Instant?)b.From).FirstOrDefaultAsync(token);
                // The newest holds, also when the wall clock stands still or has gone back.
                Instant from = clock.Wall;
                if (last is { } before && from <= before)
                {
                    from = before + Duration.FromMilliseconds(1);
                }

                context.Bands.Add(NewBand(incubator, quantity, band, from, by));
                return true;
            },
            null,
            cancellationToken);

    private static Task<IncubatorRecord?> InUseAsync(RecordsContext context, string key, CancellationToken cancellationToken)
        => context.Incubators.FirstOrDefaultAsync(i => i.Key == key && i.RetiredAt == null, cancellationToken);

    private static BandRecord NewBand(string incubator, Quantity quantity, BandView band, Instant from, string by) => new()
    {
        Id = Guid.NewGuid(),
        Incubator = incubator,
        Quantity = quantity.Name,
        DangerLow = band.DangerLow,
        WarningLow = band.WarningLow,
        WarningHigh = band.WarningHigh,
        DangerHigh = band.DangerHigh,
        Deadband = band.Deadband,
        WarningOnDelaySeconds = band.WarningOnDelaySeconds,
        DangerOnDelaySeconds = band.DangerOnDelaySeconds,
        OffDelaySeconds = band.OffDelaySeconds,
        SilentAfterSeconds = band.SilentAfterSeconds,
        From = from,
        By = by,
    };
}
