using Incubation.Core.Readings;
using Incubation.Service.Hosting;

namespace Incubation.Service.Readings;

/// <summary>Tells every listener of a reading, corrected by what is known now. One that fails keeps neither the others nor the store from it.</summary>
internal sealed class ReadingListeners(IEnumerable<IReadingListener> listeners, ICorrections corrections, ServiceClock clock, ILogger<ReadingListeners> log)
{
    private static readonly TimeSpan LogAtMostEvery = TimeSpan.FromMinutes(1);

    private readonly IReadingListener[] _listeners = [.. listeners];
    private readonly IReadingListener[] _ofThePast = [.. listeners.Where(listener => listener.TakesImported)];
    private long _loggedAt = long.MinValue;

    public void Observe(ReadOnlySpan<Reading> readings) => Observe(readings, _listeners);

    /// <summary>Tells of readings that were brought in from a file and are stored: only those who keep what they read of the past.</summary>
    public void ObserveImported(ReadOnlySpan<Reading> readings) => Observe(readings, _ofThePast);

    private void Observe(ReadOnlySpan<Reading> readings, IReadingListener[] who)
    {
        foreach (ref readonly Reading measured in readings)
        {
            Reading reading = CorrectedHistory.Correct(measured, corrections.Of(measured.Series));
            foreach (IReadingListener listener in who)
            {
                try
                {
                    listener.Observe(listener.TakesMeasured ? measured : reading);
                }
#pragma warning disable CA1031 // Whatever a listener's fault is, the reading must still be stored.
                catch (Exception error)
#pragma warning restore CA1031
                {
                    Report(error, listener);
                }
            }
        }
    }

    private void Report(Exception error, IReadingListener listener)
    {
        long now = clock.Provider.GetTimestamp(), last = Interlocked.Read(ref _loggedAt);
        if ((last == long.MinValue || clock.Provider.GetElapsedTime(last, now) > LogAtMostEvery)
            && Interlocked.CompareExchange(ref _loggedAt, now, last) == last)
        {
            log.LogError(error, "{Listener} failed at a reading; the reading is stored all the same", listener.GetType().Name);
        }
    }
}
