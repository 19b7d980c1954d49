using System.Globalization;
using Incubation.EndToEnd.Tests.Instruments;

namespace Incubation.EndToEnd.Tests.Durability;

/// <summary>Many probes that publish as fast as their window lets them, each knowing what it was told is safe.</summary>
internal sealed class Load : IAsyncDisposable
{
    public const int Probes = 20;
    private const int Window = 20;

    // A reading a minute: a simulated day is over after a few seconds, so that there is always one to seal.
    private const int SecondsApart = 60;
    private const int ReadingsBeforeMidnight = 10;
    private const int Days = 5;

    private readonly List<RawPublisher> _publishers = [];
    private readonly ReadingPayload _payload;
    private readonly CancellationTokenSource _halt = new();
    private readonly CancellationTokenSource _end;
    private Task _running = Task.CompletedTask;

    /// <param name="round">
    /// Up to 300. Rounds publish times of their own, so that each message of the test is a reading of its own. Each begins shortly before a
    /// midnight, and from the sixth on it comes to days that were sealed before.
    /// </param>
    /// <param name="stop">Ends the load.</param>
    public Load(int round, CancellationToken stop)
    {
        _end = CancellationTokenSource.CreateLinkedTokenSource(stop);
        // Within the 30 days that the service believes a probe's clock.
        DateTimeOffset midnight = new DateTimeOffset(TimeProvider.System.GetUtcNow().UtcDateTime.Date, TimeSpan.Zero).AddDays((round % Days) - 28);
        _payload = new ReadingPayload("value", "at", midnight.AddSeconds((round / Days) - (ReadingsBeforeMidnight * SecondsApart)), SecondsApart);
    }

    public long Acknowledged => _publishers.Sum(publisher => publisher.Acknowledged);

    /// <summary>Every reading that was acknowledged so far: probe and Unix milliseconds.</summary>
    public IReadOnlyList<(string Probe, long At)> Ids
        => [.. _publishers.SelectMany((publisher, probe) => publisher.AcknowledgedIds.Select(id => (Name(probe), _payload.Milliseconds(id))))];

    public async Task StartAsync(int port, CancellationToken stop)
    {
        for (int probe = 0; probe < Probes; probe++)
        {
            RawPublisher publisher = new($"incubation/load/{Name(probe)}/temperature", Window, _payload.Write, keepIds: true);
            _publishers.Add(publisher);
            await publisher.ConnectAsync(port, Name(probe), stop);
        }

        _running = Task.WhenAll(_publishers.Select(publisher => Task.Run(() => publisher.RunAsync(_halt.Token, _end.Token), stop)));
    }

    /// <summary>Waits until the connections have broken, as they do when the service is killed.</summary>
    public Task BrokenAsync(CancellationToken stop) => _running.WaitAsync(TimeSpan.FromSeconds(20), stop);

    public async ValueTask DisposeAsync()
    {
        await _halt.CancelAsync();
        await _end.CancelAsync();
        await _running;
        _publishers.ForEach(publisher => publisher.Dispose());
        _halt.Dispose();
        _end.Dispose();
    }

    private static string Name(int probe) => string.Create(CultureInfo.InvariantCulture, $"load-{probe:00}");
}
