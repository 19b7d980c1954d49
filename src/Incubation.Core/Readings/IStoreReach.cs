using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>How far the store's own readings reach.</summary>
public interface IStoreReach
{
    /// <summary>
    /// The parts of [<paramref name="from"/>, <paramref name="to"/>) of which the store once had readings and, after the time that they are
    /// kept for, has them no more. In time order, without overlap; empty when all of it is here.
    /// </summary>
    IReadOnlyList<Interval> Gone(SeriesKey series, Instant from, Instant to);
}
