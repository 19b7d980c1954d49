using System.Text;
using Incubation.Core;
using Incubation.Core.Readings;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Incubation.Service.Readings;

/// <summary>A stretch of one series that is written out.</summary>
internal sealed record ExportPart(SeriesKey Series, Instant From, Instant To);

/// <summary>Finds what is to be written out, and writes it a day at a time, so that a season needs no more memory than a day.</summary>
internal sealed class ReadingExport(IDbContextFactory<RecordsContext> records, IReadingStore store, ICorrections corrections)
{
    private static readonly Duration Step = Duration.FromDays(1);

    /// <summary>The series of a probe; null when there never was one of that key.</summary>
    public async Task<IReadOnlyList<ExportPart>?> OfProbeAsync(string probe, Quantity? only, Instant from, Instant to, CancellationToken stop)
    {
        List<SeriesKey> series = Series(probe, only);
        if (series.Count == 0)
        {
            await using RecordsContext context = await records.CreateDbContextAsync(stop);
            if (!await context.Probes.AnyAsync(p => p.Key == probe, stop) && Series(probe, null).Count == 0)
            {
                return null;
            }
        }

        return [.. series.Select(key => new ExportPart(key, from, to))];
    }

    /// <summary>The series of the probes in an incubator, while they were there; null when there never was one of that key.</summary>
    public async Task<IReadOnlyList<ExportPart>?> OfIncubatorAsync(
        string incubator, Quantity? only, Instant from, Instant to, CancellationToken stop)
    {
        await using RecordsContext context = await records.CreateDbContextAsync(stop);
        if (!await context.Incubators.AnyAsync(i => i.Key == incubator, stop))
        {
            return null;
        }

        List<PlacementRecord> placements = await context.Placements.AsNoTracking()
            .Where(p => p.Incubator == incubator && p.From < to && (p.Until == null || p.Until > from))
            .OrderBy(p => p.From).ThenBy(p => p.Probe).ToListAsync(stop);
        return [.. placements.SelectMany(placement => Series(placement.Probe, only).Select(key => new ExportPart(
            key, Instant.Max(from, placement.From), placement.Until is { } until ? Instant.Min(to, until) : to)))];
    }

    /// <summary>Writes the readings of the parts, in time order within each.</summary>
    public async Task WriteAsync(Stream body, IReadOnlyList<ExportPart> parts, CancellationToken stop)
    {
        await using StreamWriter writer = new(body, new UTF8Encoding(encoderShouldEmitUTF8Identifier: false), leaveOpen: true);
        StringBuilder text = new(CsvReadings.Header);
        foreach (ExportPart part in parts)
        {
            Correction correction = corrections.Of(part.Series);
            for (Instant from = part.From; from < part.To; from = Instant.Min(from + Step, part.To))
            {
                stop.ThrowIfCancellationRequested();
                foreach (Reading reading in store.Read(part.Series, from, Instant.Min(from + Step, part.To)))
                {
                    CsvReadings.Append(text, reading, correction);
                    if (text.Length >= Limits.ExportTextCharacters)
                    {
                        await writer.WriteAsync(text, stop);
                        text.Clear();
                    }
                }
            }
        }

        await writer.WriteAsync(text, stop);
        await writer.FlushAsync(stop);
    }

    private List<SeriesKey> Series(string probe, Quantity? only)
        => [.. store.Latest().Select(reading => reading.Series)
            .Where(key => key.Probe == probe && (only is null || key.Quantity == only))
            .OrderBy(key => key.Quantity.Name, StringComparer.Ordinal)];
}
