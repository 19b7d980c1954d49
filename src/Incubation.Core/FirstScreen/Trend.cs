namespace Incubation.Core.FirstScreen;

/// <summary>Which way a quantity is going.</summary>
public static class Trend
{
    /// <summary>Fewer readings than this say nothing about a direction.</summary>
    public const int FewestReadings = 5;

    /// <summary>A shorter stretch than this, in hours, is mostly the heater's own cycle.</summary>
    public const double ShortestHours = 1.0 / 3;

    /// <summary>
    /// Slope of the values over time by Theil and Sen: the median of the slopes of all pairs. One wild reading, or a door that was
    /// open for a minute, moves it little (up to 29 % of the readings may be wild: P. K. Sen, "Estimates of the Regression Coefficient
    /// Based on Kendall's Tau", Journal of the American Statistical Association 63 (1968) 1379–1389).
    /// </summary>
    /// <param name="points">Hours (any origin, ascending or not) and value; at most a few hundred, the cost is their square.</param>
    /// <returns>Unit of the value per hour, or null where too few or too short.</returns>
    public static double? PerHour(IReadOnlyList<(double Hours, double Value)> points)
    {
        if (points.Count < FewestReadings || points.Max(p => p.Hours) - points.Min(p => p.Hours) < ShortestHours)
        {
            return null;
        }

        var slopes = new List<double>(points.Count * (points.Count - 1) / 2);
        for (int i = 0; i < points.Count; i++)
        {
            for (int j = i + 1; j < points.Count; j++)
            {
                double apart = points[j].Hours - points[i].Hours;
                if (apart != 0)
                {
                    slopes.Add((points[j].Value - points[i].Value) / apart);
                }
            }
        }

        slopes.Sort();
        int middle = slopes.Count / 2;
        return slopes.Count % 2 == 1 ? slopes[middle] : (slopes[middle - 1] + slopes[middle]) / 2;
    }
}
