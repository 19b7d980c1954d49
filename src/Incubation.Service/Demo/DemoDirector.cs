using Incubation.Simulation.Cabinets;
using Incubation.Simulation.Probes;
using Incubation.Simulation.Scenarios;
using NodaTime;

namespace Incubation.Service.Demo;

/// <summary>
/// What happens while the demo lives: one heater that sticks until a keeper mends it, and a gentle programme of small things, without
/// end. Pure: asked with the simulated time and whether somebody is on it, it says what happens now.
/// </summary>
internal sealed class DemoDirector
{
    private static readonly Duration SmallEvery = Duration.FromMinutes(6);
    private readonly DemoSettings _settings;
    private readonly Random _chance;
    private readonly Queue<(Instant At, Happening Happening)> _opening = new();
    private Instant _driftAt, _smallAt;
    private Instant? _mendAt;
    private bool _drifting, _answerSeen;

    public DemoDirector(Instant start, DemoSettings settings)
    {
        _settings = settings;
        _chance = new Random(unchecked((int)settings.Seed));
        _driftAt = start + Duration.FromSeconds(settings.DriftAfterSeconds);
        _smallAt = start + SmallEvery;
        _opening.Enqueue((start + Duration.FromSeconds(6), new ProbeBecame(DemoFacility.NotYetPlaced, ProbeFault.None)));
        _opening.Enqueue((start + Duration.FromSeconds(15), new ProbeBecame(DemoFacility.LooseProbe, ProbeFault.Unreadable, 6)));
    }

    /// <summary>Whether Juniper's heater is stuck now.</summary>
    public bool Drifting => _drifting;

    /// <summary>Everything that is due at <paramref name="now"/>; <paramref name="answered"/> says whether somebody is on Juniper's alarm.</summary>
    public IReadOnlyList<Happening> Due(Instant now, bool answered)
    {
        var due = new List<Happening>();
        while (_opening.TryPeek(out var first) && first.At <= now)
        {
            due.Add(_opening.Dequeue().Happening);
        }
        if (_drifting)
        {
            Mend(now, answered, due);
        }
        else if (now >= _driftAt)
        {
            _drifting = true;
            _answerSeen = false;
            _mendAt = now + Duration.FromSeconds(_settings.MendedAnywayAfterSeconds);
            due.Add(new HeaterBecame(DemoFacility.Juniper, HeaterFault.StuckOn));
        }
        // Whatever was due while nobody asked (a suspended laptop) happens once, not a hundred times.
        if (now >= _smallAt)
        {
            _smallAt = now + SmallEvery;
            due.Add(Small());
        }
        return due;
    }

    private void Mend(Instant now, bool answered, List<Happening> due)
    {
        if (answered && !_answerSeen)
        {
            _answerSeen = true;
            var mend = now + Duration.FromSeconds(_settings.MendedAfterAnswerSeconds);
            _mendAt = _mendAt is { } anyway && anyway < mend ? anyway : mend;
        }
        if (now >= _mendAt)
        {
            _drifting = false;
            _driftAt = now + Duration.FromSeconds(_settings.DriftAgainAfterSeconds);
            due.Add(new HeaterBecame(DemoFacility.Juniper, HeaterFault.None));
            // The keeper has changed the relay and holds the lid open until the worst heat is out.
            due.Add(new DoorOpened(DemoFacility.Juniper, 90));
        }
    }

    private Happening Small()
    {
        var calm = new[] { DemoFacility.Hazel, DemoFacility.Rowan, DemoFacility.Linden, DemoFacility.Sorrel };
        var cabinet = calm[_chance.Next(calm.Length)];
        return _chance.Next(6) switch
        {
            0 or 1 => new DoorOpened(cabinet, _chance.Next(10, 26)),
            2 => new Misted(cabinet, 1),
            3 => new ProbeBecame("linden-eggs", ProbeFault.Silent, _chance.Next(60, 240)),
            4 => new ProbeBecame(DemoFacility.LooseProbe, ProbeFault.Unreadable, 6),
            _ => new ProbeBecame("hazel-eggs", ProbeFault.Minus127, 6),
        };
    }
}
