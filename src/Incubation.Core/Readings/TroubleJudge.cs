using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>
/// Judges all probes of one quantity in one incubator. Pure: what stands now follows from the tracks, what stood before, and the time. A
/// trouble keeps the time since when it stands, and clears by a rule of its own, so that it does not flicker.
/// </summary>
public static class TroubleJudge
{
    /// <summary>What stands now.</summary>
    /// <param name="probes">The probes of one quantity placed in one incubator; their tracks begin with the placement.</param>
    /// <param name="standing">What stood at the last look, of these probes and this quantity.</param>
    /// <param name="past">How two probes stood to each other when both had just been placed, or null when that is not known.</param>
    /// <param name="now">The moment.</param>
    public static IReadOnlyList<Trouble> Judge(
        IReadOnlyList<TroubleProbe> probes, IReadOnlyList<Trouble> standing, Func<TroubleProbe, TroubleProbe, PairPast?> past, Instant now)
    {
        List<Trouble> found = [];
        HashSet<string> unfit = new(StringComparer.Ordinal);
        foreach (TroubleProbe probe in probes)
        {
            Trouble? Before(TroubleKind kind) => standing.FirstOrDefault(t => t.Kind == kind && t.Series == probe.Track.Series);
            TroubleProbe[] others = [.. probes.Where(other => other.Probe != probe.Probe)];
            Trouble? stuck = TroubleStuck.Judge(probe, others, Before(TroubleKind.Stuck), now);
            Trouble? outside = stuck is null ? TroubleOutside.Judge(probe, others, Before(TroubleKind.OutsideTheTub), now) : null;
            if ((stuck ?? outside) is not null)
            {
                // Two probes of which one is known to be wrong tell nothing of the other.
                unfit.Add(probe.Probe);
            }

            Add(stuck);
            Add(outside);
            Add(TroubleJumping.Judge(probe, Before(TroubleKind.Jump), now));
            Add(TroubleNoise.Judge(probe, others, Before(TroubleKind.Noise), now));
        }

        found.AddRange(TroubleDisagreement.Judge([.. probes.Where(p => !unfit.Contains(p.Probe))], standing, past, now));
        return found;

        void Add(Trouble? trouble)
        {
            if (trouble is not null)
            {
                found.Add(trouble);
            }
        }
    }
}
