using System.Collections.Immutable;
using NodaTime;

namespace Incubation.Simulation.Scenarios;

/// <summary>Happenings on a timeline, in order of time; those of one instant in the order in which they were added.</summary>
public sealed class Scenario
{
    private Scenario(ImmutableArray<Entry> entries) => Entries = entries;

    /// <summary>Nothing happens.</summary>
    public static Scenario Empty { get; } = new([]);

    /// <summary>All of it.</summary>
    public ImmutableArray<Entry> Entries { get; }

    /// <summary>This, and <paramref name="happening"/> at <paramref name="at"/>.</summary>
    public Scenario With(Instant at, Happening happening)
    {
        ArgumentNullException.ThrowIfNull(happening);
        var place = Entries.Length;
        while (place > 0 && Entries[place - 1].At > at)
        {
            place--;
        }
        return new Scenario(Entries.Insert(place, new Entry(at, happening)));
    }

    /// <summary>One line of it.</summary>
    /// <param name="At">When.</param>
    /// <param name="Happening">What.</param>
    public sealed record Entry(Instant At, Happening Happening);
}
