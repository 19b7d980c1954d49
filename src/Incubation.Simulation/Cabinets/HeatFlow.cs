namespace Incubation.Simulation.Cabinets;

/// <summary>
/// The way of two coupled thermal masses over one step with steady inputs: exact, because it is the matrix exponential of
/// <c>Ca·A' = k(M−A) + u(R−A) + P</c>, <c>Cm·M' = k(A−M) + Q</c>, not a difference scheme. So the step's length limits only how often
/// a thermostat is asked.
/// </summary>
internal readonly struct HeatFlow
{
    private readonly double _aa, _am, _ma, _mm, _loss, _coupling;

    public HeatFlow(double airCapacity, double massCapacity, double coupling, double loss, double seconds)
    {
        _loss = loss;
        _coupling = coupling;
        double a = -(coupling + loss) / airCapacity, b = coupling / airCapacity, c = coupling / massCapacity, d = -coupling / massCapacity;
        // Both eigenvalues are real and distinct, because b·c > 0.
        double middle = (a + d) / 2, root = Math.Sqrt((((a - d) / 2) * ((a - d) / 2)) + (b * c));
        double slow = middle + root, fast = middle - root;
        double eSlow = Math.Exp(slow * seconds), eFast = Math.Exp(fast * seconds), gap = slow - fast;
        _aa = ((eSlow * (a - fast)) - (eFast * (a - slow))) / gap;
        _mm = ((eSlow * (d - fast)) - (eFast * (d - slow))) / gap;
        _am = (eSlow - eFast) * b / gap;
        _ma = (eSlow - eFast) * c / gap;
    }

    /// <summary>Moves air and mass on by the step; powers in W, temperatures in °C.</summary>
    public void Step(ref double air, ref double mass, double room, double heater, double eggs)
    {
        var airEnd = room + ((heater + eggs) / _loss);
        var massEnd = airEnd + (eggs / _coupling);
        double da = air - airEnd, dm = mass - massEnd;
        air = airEnd + (_aa * da) + (_am * dm);
        mass = massEnd + (_ma * da) + (_mm * dm);
    }
}
