using NodaTime;

namespace Incubation.Core.Development;

/// <summary>
/// Stage over time: the share of the time from laying to pip that is used up. Not a share of development: a python does a quarter
/// or more of that before laying.
/// </summary>
public sealed class StageCurve
{
    private readonly Trace _path;
    private readonly RateModel _rate;
    private readonly double[] _before;

    /// <summary>Adds up a rate along a path.</summary>
    /// <param name="path">Temperature from laying on, °C; where it has gaps the stage stands still.</param>
    /// <param name="rate">The rate.</param>
    public StageCurve(Trace path, RateModel rate)
    {
        ArgumentNullException.ThrowIfNull(path);
        ArgumentNullException.ThrowIfNull(rate);
        _path = path;
        _rate = rate;
        _before = new double[path.Pieces.Count + 1];
        for (int i = 0; i < path.Pieces.Count; i++)
        {
            _before[i + 1] = _before[i] + rate.Over(path.Pieces[i]);
        }
    }

    /// <summary>Stage at an instant, 0 to 1: 0 before the path begins, 1 from pip on.</summary>
    public double At(Instant at) => Math.Min(1, Sum(at));

    /// <summary>First instant at which the sum reaches a share, or null when the path ends before.</summary>
    /// <param name="share">More than 0; 1 is pip.</param>
    public Instant? Reaches(double share)
    {
        int piece = Array.FindIndex(_before, sum => sum >= share) - 1;
        return piece < 0 ? null : Crossing(_path.Pieces[piece], share - _before[piece]);
    }

    private double Sum(Instant at)
    {
        int low = 0, high = _path.Pieces.Count;
        while (low < high)
        {
            int middle = (low + high) / 2;
            (low, high) = _path.Pieces[middle].Until <= at ? (middle + 1, high) : (low, middle);
        }

        double sum = _before[low];
        return low < _path.Pieces.Count && _path.Pieces[low].Within(_path.Pieces[low].From, at) is { } part
            ? sum + _rate.Over(part)
            : sum;
    }

    private Instant Crossing(Piece piece, double need)
    {
        double low = 0, high = 1;
        Duration length = piece.Until - piece.From;
        for (int i = 0; i < 60; i++)
        {
            double middle = (low + high) / 2;
            double sum = piece.Within(piece.From, piece.From + (length * middle)) is { } part ? _rate.Over(part) : 0;
            (low, high) = sum < need ? (middle, high) : (low, middle);
        }

        return piece.From + (length * high);
    }
}
