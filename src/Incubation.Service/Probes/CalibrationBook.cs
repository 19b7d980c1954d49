using Incubation.Core.Readings;
using Incubation.Service.Hosting;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Incubation.Service.Probes;

/// <summary>All calibrations, in memory, and the corrections that follow. Replaced whole after each change, under the facility's one door.</summary>
internal sealed class CalibrationBook(
    Corrections corrections, IDbContextFactory<RecordsContext> records, ServiceClock clock, ILogger<CalibrationBook> log) : IStartupStep
{
    private volatile CalibrationLog _log = CalibrationLog.Empty;

    public StartupStage Stage => StartupStage.Facility;

    public CalibrationLog Log => _log;

    /// <summary>Reads the records, before the first reading may arrive.</summary>
    public async Task RunAsync(CancellationToken cancellationToken)
    {
        await using RecordsContext context = await records.CreateDbContextAsync(cancellationToken);
        CalibrationLog read = CalibrationLog.Empty;
        foreach (CalibrationRecord row in await context.Calibrations.AsNoTracking().ToListAsync(cancellationToken))
        {
            if (CalibrationRows.Entry(row) is { } entry)
            {
                read = read.With(entry);
            }
            else
            {
                log.LogError("Calibration {Id} of {Probe} has a method that is not known here ({Method}) and is not used", row.Id, row.Probe, row.Method);
            }
        }

        Become(read);
    }

    /// <summary>Takes an entry that has been saved.</summary>
    public void Saved(CalibrationEntry entry) => Become(_log.With(entry));

    /// <summary>What a series is corrected by now, or null.</summary>
    public CorrectionView? Now(SeriesKey series)
    {
        Instant now = clock.Wall;
        return _log.Holding(series).LastOrDefault(entry => entry.From <= now) is { } entry
            ? new CorrectionView(entry.Gain, entry.Offset, entry.From, CalibrationWords.Word(entry.Method), entry.NextDue)
            : null;
    }

    /// <summary>The first day on which something of a probe is due to be calibrated again, or null.</summary>
    public LocalDate? Due(string probe)
        => _log.Of(probe).Select(entry => entry.Series).Distinct().Select(Now).Min(correction => correction?.NextDue);

    private void Become(CalibrationLog log)
    {
        _log = log;
        corrections.Become(log.Series.ToDictionary(series => series, log.CorrectionOf));
    }
}
