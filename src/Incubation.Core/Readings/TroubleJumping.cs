using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>Values that jump away and back. Clears a day after the last.</summary>
internal static class TroubleJumping
{
    public static Trouble? Judge(TroubleProbe probe, Trouble? before, Instant now)
    {
        IReadOnlyList<(TroublePoint Jump, double From)> jumps = probe.Track.Jumps.Since(now - TroubleRules.JumpWithin);
        if (jumps.Count < (before is null ? TroubleRules.Jumps : 1))
        {
            return null;
        }

        Quantity quantity = probe.Track.Series.Quantity;
        (TroublePoint worst, double from) = jumps.MaxBy(j => Math.Abs(j.Jump.Value - j.From));
        string times = jumps.Count == 1 ? "once" : $"{jumps.Count} times";
        return new Trouble(
            TroubleKind.Jump, probe.Track.Series, before?.Since ?? jumps[0].Jump.At,
            $"{probe.Name} jumped {times} in a day and came straight back, as no air does: "
            + $"from {TroubleWords.Value(from, quantity)} to {TroubleWords.Value(worst.Value, quantity)}. Look at its plug and cable.",
            [.. jumps.Select(j => j.Jump)], null, 0);
    }
}
