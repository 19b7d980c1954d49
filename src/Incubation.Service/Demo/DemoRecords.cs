using System.Security.Cryptography;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Incubation.Service.Demo;

/// <summary>Writes the invented facility into an empty records database, once per data directory.</summary>
internal static class DemoRecords
{
    /// <summary>Set once everything is written, readings too; its value is the seed.</summary>
    public const string SeededKey = "demo.seeded";

    private static readonly Guid MailStep = new("5b1d7b1e-1a0c-4d4c-9a55-0d6a1f3c2a01"), HookStep = new("5b1d7b1e-1a0c-4d4c-9a55-0d6a1f3c2a02");

    public static Task<bool> AreSeededAsync(RecordsContext records, CancellationToken stop)
        => records.Settings.AnyAsync(s => s.Key == SeededKey, stop);

    /// <summary>Adds what is missing; a start that was interrupted is made whole by the next.</summary>
    /// <returns>Whether anything was added.</returns>
    public static async Task<bool> WriteAsync(
        RecordsContext records, Func<DemoPast> past, DemoCalendar calendar, Uri webhook, CancellationToken stop)
    {
        if (await records.Incubators.AnyAsync(stop))
        {
            await PointAtAsync(records, webhook, stop);
            return false;
        }
        var told = past();
        var since = calendar.At(DemoPast.FacilityDays, 10);
        AddPlaces(records, since);
        AddCallOut(records, webhook);
        records.AlarmJournal.AddRange(told.Journal.Lines);
        records.AlarmStates.AddRange(told.Journal.Standing);
        told.Book.AddTo(records);
        await records.SaveChangesAsync(stop);
        return true;
    }

    /// <summary>Remembers that records and readings are both written.</summary>
    public static async Task MarkSeededAsync(RecordsContext records, Instant now, long seed, CancellationToken stop)
    {
        records.Settings.Add(new SettingRecord
        {
            Key = SeededKey,
            Value = seed.ToString(System.Globalization.CultureInfo.InvariantCulture),
            ChangedAt = now,
            By = "demo",
        });
        await records.SaveChangesAsync(stop);
    }

    private static void AddPlaces(RecordsContext records, Instant since)
    {
        records.Incubators.AddRange(DemoFacility.Incubators.Select((place, i) =>
            new IncubatorRecord { Key = place.Key, Name = place.Name, Position = i, CreatedAt = since }));
        foreach (var (probe, where) in DemoFacility.Probes)
        {
            if (where is null)
            {
                continue;
            }
            records.Probes.Add(new ProbeRecord { Key = probe.Key, FirstHeardAt = since });
            records.Placements.Add(new PlacementRecord
            {
                Id = Guid.CreateVersion7(),
                Probe = probe.Key,
                Incubator = probe.Cabinet,
                Where = where,
                Tub = DemoTubs.In(where),
                From = since,
                By = DemoFacility.Keeper,
                EnteredAt = since,
            });
        }
        records.Bands.AddRange(DemoFacility.Bands.Select(band => new BandRecord
        {
            Id = Guid.CreateVersion7(),
            Incubator = band.Incubator,
            Quantity = band.Quantity.Name,
            DangerLow = band.DangerLow,
            WarningLow = band.WarningLow,
            WarningHigh = band.WarningHigh,
            DangerHigh = band.DangerHigh,
            Deadband = band.Deadband,
            WarningOnDelaySeconds = (int)band.WarningOnDelay.TotalSeconds,
            DangerOnDelaySeconds = (int)band.DangerOnDelay.TotalSeconds,
            OffDelaySeconds = (int)band.OffDelay.TotalSeconds,
            SilentAfterSeconds = (int)band.SilentAfter.TotalSeconds,
            From = since,
            By = DemoFacility.Keeper,
        }));
    }

    private static void AddCallOut(RecordsContext records, Uri webhook)
    {
        records.CallSteps.AddRange(
            new CallStepRecord
            {
                Id = MailStep,
                Position = 0,
                Who = DemoFacility.Keeper,
                Channel = "mail",
                // .invalid never resolves (RFC 2606); the demo's own mail server takes it.
                Address = "maren@eggroom.invalid",
                AfterSeconds = 0,
                RepeatSeconds = 300,
                Enabled = true,
            },
            new CallStepRecord
            {
                Id = HookStep,
                Position = 1,
                Who = DemoFacility.SecondKeeper,
                Channel = "webhook",
                Address = webhook.ToString(),
                Secret = "whsec_" + Convert.ToBase64String(RandomNumberGenerator.GetBytes(32)),
                AfterSeconds = 30,
                RepeatSeconds = 300,
                Enabled = true,
            });
    }

    // The receiver has another port after each start.
    private static async Task PointAtAsync(RecordsContext records, Uri webhook, CancellationToken stop)
    {
        if (await records.CallSteps.FirstOrDefaultAsync(s => s.Id == HookStep, stop) is { Channel: "webhook" } step)
        {
            step.Address = webhook.ToString();
            await records.SaveChangesAsync(stop);
        }
    }
}
