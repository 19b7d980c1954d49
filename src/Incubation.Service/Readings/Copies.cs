using Incubation.Core.Readings;
using Incubation.Service.Hosting;
using Incubation.Storage.Influx;
using Incubation.Storage.Readings;
using Microsoft.Extensions.Options;
using NodaTime;

namespace Incubation.Service.Readings;

/// <summary>How the copy is doing, for the page about the keeping of readings.</summary>
/// <param name="Kind">What it is kept in.</param>
/// <param name="State"><c>well</c>, <c>away</c> or <c>stopped</c>.</param>
/// <param name="Behind">Readings that wait one by one.</param>
/// <param name="BehindDays">Days of a series that are still to be copied whole.</param>
/// <param name="OldestWaiting">Time of the oldest reading that waits.</param>
/// <param name="Refused">Readings that were set aside.</param>
/// <param name="Words">All of it in plain words.</param>
internal sealed record CopyStateView(string Kind, string State, long Behind, int BehindDays, Instant? OldestWaiting, int Refused, string Words);

/// <summary>What the settings ask for: a copy in InfluxDB with its outbox and the way to read it, or none of it.</summary>
internal sealed class Copies : IDisposable
{
    private readonly DataPaths _paths;
    private volatile InfluxCopy? _copy;

    public Copies(IOptions<IncubationOptions> options, DataPaths paths)
    {
        _paths = paths;
        InfluxOptions influx = options.Value.Influx;
        if (influx.IsOn)
        {
            Settings = new InfluxSettings
            {
                Url = new Uri(influx.Url!.TrimEnd('/') + "/"),
                Token = influx.Token,
                Org = influx.Org,
                Bucket = influx.Bucket,
                Database = string.IsNullOrEmpty(influx.Database) ? null : influx.Database,
            };
            Outbox = new CopyOutbox(paths.Readings, Settings.Target);
            Archive = new InfluxArchive(Settings);
            ReadBeyond = influx.ReadBeyondDays is { } days ? Duration.FromDays(days) : null;
        }
    }

    public InfluxSettings? Settings { get; }

    public CopyOutbox? Outbox { get; }

    public IReadingArchive? Archive { get; }

    /// <summary>Age beyond which history is read from the archive.</summary>
    public Duration? ReadBeyond { get; }

    /// <summary>Takes away what an earlier copy left behind, once there is none any more.</summary>
    public void ForgetEarlier()
    {
        if (Outbox is null)
        {
            CopyOutbox.Forget(_paths.Readings);
        }
    }

    /// <summary>Begins the copy; once, after the store was opened.</summary>
    public InfluxCopy Begin(IReadingStore store, TimeProvider time)
        => _copy = new InfluxCopy(Outbox!, store, Settings!, time, Random.Shared.NextDouble);

    /// <summary>How it is doing; null when there is no copy.</summary>
    public CopyStateView? View()
    {
        if (_copy is not { } copy)
        {
            return null;
        }

        CopyView view = copy.View();
        return new CopyStateView(
            "InfluxDB", view.Condition.ToString().ToLowerInvariant(), view.Waiting, view.DaysWaiting, view.OldestWaiting, view.Refused, view.Words);
    }

    public void Dispose()
    {
        _copy?.Dispose();
        (Archive as IDisposable)?.Dispose();
        Outbox?.Close();
    }
}
