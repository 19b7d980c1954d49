using Incubation.Core.Readings;
using Incubation.EndToEnd.Tests.Instruments;
using Incubation.Storage.Influx;
using Incubation.Storage.Tests.Readings;
using NodaTime;
using Xunit;

namespace Incubation.Storage.Tests.Influx;

/// <summary>The store in SQLite.</summary>
public sealed class SqliteBucketTests : BucketContract, IAsyncDisposable
{
    private readonly TemporaryStore _it = TemporaryStore.Opened();

    public ValueTask DisposeAsync() => _it.DisposeAsync();

    private protected override Task KeepAsync(IReadOnlyList<Reading> readings) => _it.Store.ImportAsync(readings, Token);

    private protected override Task<ReadingBuckets> BucketsAsync(SeriesKey series, Instant from, Instant to, int buckets, Correction correction)
        => Task.Run(() => _it.Store.Buckets(series, from, to, buckets, correction), Token);
}

/// <summary>The archive on a real influxd, filled by the writer that the copy uses.</summary>
public sealed class InfluxBucketTests(InfluxFixture influx) : BucketContract, IDisposable
{
    private readonly V1WritePath _way = new();

    public void Dispose() => _way.Dispose();

    private protected override async Task KeepAsync(IReadOnlyList<Reading> readings)
    {
        using InfluxPointWriter writer = new(InfluxFixture.Settings(await influx.ServerAsync()), _way);
        WriteAnswer answer = await writer.WriteAsync([.. readings.Select(reading => PointLine.Of(reading))], Token);
        Assert.Equal(204, answer.Status);
    }

    private protected override async Task<ReadingBuckets> BucketsAsync(SeriesKey series, Instant from, Instant to, int buckets, Correction correction)
    {
        InfluxServer server = await influx.ServerAsync();
        using InfluxArchive archive = new(InfluxFixture.Settings(server));
        return await archive.BucketsAsync(series, from, to, buckets, correction, Token);
    }
}
