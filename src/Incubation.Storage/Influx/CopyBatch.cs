using Incubation.Core.Readings;
using Incubation.Storage.Readings;

namespace Incubation.Storage.Influx;

/// <summary>
/// Points on their way out together, cut into stretches: one at first, halves when InfluxDB refuses one, and so on down to the point that it
/// refuses. Where it came from is told only when every stretch is through.
/// </summary>
internal sealed class CopyBatch
{
    // A day that a whole bucket refuses, being older than what the bucket keeps, isn't to be asked for point by point.
    private const int MostRefusals = 100;

    private readonly IReadOnlyList<(long Series, Reading Reading)> _points;
    private readonly Stack<(int Start, int Count)> _ahead = [];
    private readonly List<CopyRefusal> _refused = [];
    private bool _anyTaken;

    public CopyBatch(IReadOnlyList<(long Series, Reading Reading)> points, long? upTo, CopyDay? day)
    {
        (_points, UpTo, Day) = (points, upTo, day);
        if (points.Count > 0)
        {
            _ahead.Push((0, points.Count));
        }
    }

    /// <summary>The last entry of the outbox in it.</summary>
    public long? UpTo { get; }

    /// <summary>The day that it is.</summary>
    public CopyDay? Day { get; }

    public IReadOnlyList<CopyRefusal> Refused => _refused;

    public int Taken { get; private set; }

    public bool IsOver => _ahead.Count == 0;

    /// <summary>Lines of the next stretch, at most so many.</summary>
    public List<string> Lines(int most)
    {
        (int start, int count) = _ahead.Pop();
        while (count > most)
        {
            _ahead.Push((start + most, count - most));
            count = most;
        }

        _ahead.Push((start, count));
        List<string> lines = new(count);
        for (int i = start; i < start + count; i++)
        {
            lines.Add(PointLine.Of(_points[i].Reading));
        }

        return lines;
    }

    /// <summary>The stretch has arrived.</summary>
    public void Arrived()
    {
        Taken += _ahead.Pop().Count;
        _anyTaken = true;
    }

    /// <summary>The stretch goes out as two.</summary>
    public void Split()
    {
        (int start, int count) = _ahead.Pop();
        _ahead.Push((start + count / 2, count - count / 2));
        _ahead.Push((start, count / 2));
    }

    /// <summary>The stretch is one point, and it is refused.</summary>
    public void SetAside(string reason)
    {
        Refuse(_ahead.Pop(), reason);
        if (!_anyTaken && _refused.Count >= MostRefusals)
        {
            while (_ahead.TryPop(out (int, int) rest))
            {
                Refuse(rest, reason);
            }
        }
    }

    private void Refuse((int Start, int Count) stretch, string reason)
    {
        for (int i = stretch.Start; i < stretch.Start + stretch.Count; i++)
        {
            _refused.Add(new CopyRefusal(_points[i].Series, _points[i].Reading, reason));
        }
    }
}
