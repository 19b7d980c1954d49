using System.Collections.Concurrent;
using System.Globalization;
using Incubation.Service.Hosting;
using NodaTime;
using NodaTime.Text;

namespace Incubation.Service.Calling;

/// <summary>Why a step of the call-out order is not reached.</summary>
/// <param name="Address">The address that was tried; another one is another matter.</param>
/// <param name="Since">First failed attempt since it was reached last, in local time of the facility.</param>
/// <param name="Times">Failed attempts since then.</param>
/// <param name="Error">What the latest attempt said.</param>
internal sealed record CallFault(string Address, LocalDateTime Since, int Times, string Error)
{
    private static readonly LocalDateTimePattern Clock = LocalDateTimePattern.CreateWithInvariantCulture("d MMM HH':'mm");

    public string Words(string who, string channel)
        => string.Create(CultureInfo.InvariantCulture,
            $"{who} could not be reached by {channel} since {Clock.Format(Since)} ({Times} {(Times == 1 ? "try" : "tries")}): {Error}");
}

/// <summary>What went wrong the last time each step was called, real calls and tests alike. A delivery takes it away.</summary>
internal sealed class CallFaults(ServiceClock clock, Microsoft.Extensions.Options.IOptions<IncubationOptions> options)
{
    private readonly ConcurrentDictionary<Guid, CallFault> _faults = new();
    private readonly DateTimeZone _zone = DateTimeZoneProviders.Tzdb.GetZoneOrNull(options.Value.Facility.Zone) ?? DateTimeZone.Utc;

    /// <summary>The fault of a step at this address, or null when it was reached there or never called.</summary>
    public CallFault? Of(Guid step, string address)
        => _faults.TryGetValue(step, out CallFault? fault) && fault.Address == address ? fault : null;

    public void Note(Guid step, string address, SendResult result)
    {
        if (result.Delivered)
        {
            _faults.TryRemove(step, out _);
            return;
        }

        string error = result.Error ?? "It failed.";
        LocalDateTime now = clock.Wall.InZone(_zone).LocalDateTime;
        _faults.AddOrUpdate(
            step,
            _ => new CallFault(address, now, 1, error),
            (_, former) => former.Address == address ? former with { Times = former.Times + 1, Error = error } : new CallFault(address, now, 1, error));
    }

    /// <summary>Puts back what the records say of the step's newest call before a restart.</summary>
    public void Restore(Guid step, string address, Instant since, int times, string error)
        => _faults.TryAdd(step, new CallFault(address, since.InZone(_zone).LocalDateTime, Math.Max(1, times), error));

    /// <summary>Steps that are no longer in the order are forgotten.</summary>
    public void Keep(IReadOnlyCollection<Guid> steps)
    {
        foreach (Guid gone in _faults.Keys.Where(k => !steps.Contains(k)).ToArray())
        {
            _faults.TryRemove(gone, out _);
        }
    }
}
