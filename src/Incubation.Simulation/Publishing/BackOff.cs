namespace Incubation.Simulation.Publishing;

/// <summary>How long to wait before the next try: doubles to a bound, each with a share of chance so that a fleet doesn't knock in step.</summary>
public sealed class BackOff(ulong seed, TimeSpan first, TimeSpan most)
{
    private int _failures;

    /// <summary>It failed; wait this long: between half and all of first × 2^failures, at most <c>most</c>.</summary>
    public TimeSpan Failed()
    {
        var whole = Math.Min(first.TotalMilliseconds * Math.Pow(2, Math.Min(_failures, 30)), most.TotalMilliseconds);
        var share = 0.5 + (0.5 * Chance.Uniform(seed, (ulong)_failures));
        _failures++;
        return TimeSpan.FromMilliseconds(whole * share);
    }

    /// <summary>It worked: start afresh.</summary>
    public void Worked() => _failures = 0;
}
