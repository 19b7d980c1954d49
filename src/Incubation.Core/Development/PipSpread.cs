using Incubation.Core.Genetics;
using NodaTime;

namespace Incubation.Core.Development;

/// <summary>
/// When one egg of the clutch pips, as a distribution: pip times at the nodes of a Gauss-Hermite rule over developmental zero,
/// duration at the anchor and probe bias, each smeared by the spread within a clutch and by what was assumed. No chance is drawn:
/// the same input gives the same figures.
/// </summary>
public sealed class PipSpread
{
    // Gauss-Hermite rules for the standard normal distribution: nodes and weights.
    private static readonly (double Z, double W)[] Five =
    [
        (-2.8569700138728056, 0.011257411327720689), (-1.3556261799742659, 0.2220759220056126), (0, 0.53333333333333333),
        (1.3556261799742659, 0.2220759220056126), (2.8569700138728056, 0.011257411327720689),
    ];

    private static readonly (double Z, double W)[] Seven =
    [
        (-3.7504397177257422, 0.00054826885597221791), (-2.3667594107345411, 0.030757123967586498),
        (-1.1544053947399682, 0.24012317860501270), (0, 0.45714285714285714), (1.1544053947399682, 0.24012317860501270),
        (2.3667594107345411, 0.030757123967586498), (3.7504397177257422, 0.00054826885597221791),
    ];

    private readonly Instant _laid;
    private readonly List<(double Day, double Weight)> _nodes = [];
    private readonly double _sd;

    private PipSpread(Instant laid, double sd)
    {
        _laid = laid;
        _sd = sd;
    }

    /// <summary>Standard deviation that does not come from the profile's nodes: within the clutch, lay date, gaps, days to come; d.</summary>
    public double SmearDays => _sd;

    /// <summary>Chance that an egg has pipped by an instant, 0 to 1.</summary>
    public double PippedBy(Instant at)
    {
        double day = (at - _laid).TotalDays;
        return _nodes.Sum(node => node.Weight * SpecialFunctions.NormalCdf((day - node.Day) / _sd));
    }

    /// <summary>Weight of a pip at an instant, 1/d: what the life strip draws.</summary>
    public double Density(Instant at)
    {
        double day = (at - _laid).TotalDays;
        return _nodes.Sum(node => node.Weight * Math.Exp(-0.5 * ((day - node.Day) / _sd) * ((day - node.Day) / _sd)))
            / (_sd * Math.Sqrt(2 * Math.PI));
    }

    /// <summary>Instant by which a share of such eggs has pipped, or null when that is beyond <see cref="Limits.ForecastDays"/>.</summary>
    /// <param name="share">Between 0 and 1.</param>
    public Instant? By(double share)
    {
        Instant low = _laid;
        Instant high = _laid + Duration.FromDays(Limits.ForecastDays);
        if (PippedBy(high) < share)
        {
            return null;
        }

        while (high - low > Duration.FromSeconds(1))
        {
            Instant middle = low + ((high - low) / 2);
            (low, high) = PippedBy(middle) < share ? (middle, high) : (low, middle);
        }

        return high;
    }

    internal static PipSpread Of(ForecastInput input, ForecastPath path, Instant? central)
    {
        DevelopmentProfile profile = input.Profile;
        double perDegree = 1 / (profile.AnchorCelsius - profile.Zero);
        double gapDays = path.Gaps.Sum(gap => gap.Duration.TotalDays);
        double aheadDays = central is { } pip && pip > input.Now ? (pip - input.Now).TotalDays : 0;
        double smear = Math.Sqrt(
            Square(profile.WithinClutchSdDays)
            + ((Square(input.LaySlackDays) + 0.25) / 3) // uniform over the days it may have been, and over the lay day itself
            + Square(gapDays * input.GapSd * perDegree)
            + Square(aheadDays * input.AheadSd * perDegree));
        var spread = new PipSpread(input.Laid, smear);
        double relative = profile.AnchorDaysSd / profile.AnchorDays;
        foreach ((double zZero, double wZero) in Five)
        {
            // A zero within 4 °C of the anchor is not believed of any reptile; the nodes stop there.
            double zero = Math.Min(profile.Zero + (zZero * profile.ZeroSd), profile.AnchorCelsius - 4);
            foreach ((double zBias, double wBias) in Five)
            {
                double bias = zBias * input.ProbeBiasSd;
                double[] needs = [.. Seven.Select(node =>
                    profile.AnchorDays * Math.Exp(node.Z * relative) * (profile.AnchorCelsius - zero))];
                double[] days = Reach(path.Path, input.Laid, zero - bias, profile.CutOff - bias, needs);
                for (int i = 0; i < days.Length; i++)
                {
                    spread._nodes.Add((days[i], wZero * wBias * Seven[i].W));
                }
            }
        }

        return spread;
    }

    // Days after laying at which the degree-days above a zero reach each of the needs, which rise; infinite when they never do.
    private static double[] Reach(Trace path, Instant laid, double zero, double? cutOff, double[] needs)
    {
        double[] days = new double[needs.Length];
        Array.Fill(days, double.PositiveInfinity);
        int next = 0;
        double sum = 0;
        foreach (Piece piece in path.Pieces)
        {
            double step = DegreeDays.Of(piece, zero, cutOff);
            while (next < needs.Length && step > 0 && sum + step >= needs[next])
            {
                days[next] = (piece.From - laid).TotalDays + DayWithin(piece, zero, cutOff, needs[next] - sum);
                next++;
            }

            if (next == needs.Length)
            {
                break;
            }

            sum += step;
        }

        return days;
    }

    private static double DayWithin(Piece piece, double zero, double? cutOff, double need)
    {
        double low = 0, high = 1;
        Duration length = piece.Until - piece.From;
        for (int i = 0; i < 50; i++)
        {
            double middle = (low + high) / 2;
            double sum = piece.Within(piece.From, piece.From + (length * middle)) is { } part ? DegreeDays.Of(part, zero, cutOff) : 0;
            (low, high) = sum < need ? (middle, high) : (low, middle);
        }

        return high * length.TotalDays;
    }

    private static double Square(double value) => value * value;
}
