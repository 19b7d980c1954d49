using Incubation.Core.Development;
using NodaTime;

namespace Incubation.Service.Development;

/// <summary>A trace in buckets of equal width: least, time-weighted mean and greatest of each that has anything in it.</summary>
internal sealed record StripBuckets(long WidthMs, List<long> StartMs, List<double> Min, List<double> Mean, List<double> Max)
{
    public static StripBuckets Of(Trace line, Instant from, Instant to, int buckets)
    {
        long origin = from.ToUnixTimeMilliseconds();
        long width = Math.Max(1, (to.ToUnixTimeMilliseconds() - origin + buckets - 1) / buckets);
        var found = new StripBuckets(width, [], [], [], []);
        double area = 0, days = 0;
        foreach (Piece piece in line.Pieces)
        {
            for (Instant start = piece.From; start < piece.Until;)
            {
                long bucket = (start.ToUnixTimeMilliseconds() - origin) / width;
                Instant end = Instant.FromUnixTimeMilliseconds(origin + ((bucket + 1) * width));
                if (piece.Within(start, end) is not { } part)
                {
                    break;
                }

                found.Add(origin + (bucket * width), part, ref area, ref days);
                start = part.Until;
            }
        }

        return found;
    }

    private void Add(long start, Piece part, ref double area, ref double days)
    {
        double low = Math.Min(part.FromValue, part.UntilValue), high = Math.Max(part.FromValue, part.UntilValue);
        if (StartMs.Count == 0 || StartMs[^1] != start)
        {
            StartMs.Add(start);
            Min.Add(low);
            Max.Add(high);
            Mean.Add(0);
            (area, days) = (0, 0);
        }

        area += part.Mean * part.Days;
        days += part.Days;
        Min[^1] = Math.Min(Min[^1], low);
        Max[^1] = Math.Max(Max[^1], high);
        Mean[^1] = Math.Clamp(area / days, Min[^1], Max[^1]);
    }
}
