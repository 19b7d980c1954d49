using Incubation.Core.Development;
using NodaTime;

namespace Incubation.Service.Development;

/// <summary>
/// Makes a trace short for sums that run over it many times: an hour known throughout that moves by less than half a degree becomes one line at
/// its mean. Areas above any threshold outside what the hour spans are kept exactly; within it the error is below 0.006 °C·d an hour.
/// </summary>
internal static class CalmHours
{
    private const double Calm = 0.5;

    public static IEnumerable<Piece> Of(IReadOnlyList<Piece> pieces)
    {
        for (int i = 0; i < pieces.Count;)
        {
            Instant hour = HourOf(pieces[i].From), end = hour + Duration.FromHours(1);
            int next = i;
            double low = double.PositiveInfinity, high = double.NegativeInfinity, area = 0;
            bool whole = true;
            while (next < pieces.Count && pieces[next].From < end)
            {
                Piece piece = pieces[next];
                whole &= next == i || piece.From == pieces[next - 1].Until;
                low = Math.Min(low, Math.Min(piece.FromValue, piece.UntilValue));
                high = Math.Max(high, Math.Max(piece.FromValue, piece.UntilValue));
                area += piece.Mean * piece.Days;
                next++;
            }

            if (whole && high - low < Calm && next - i > 1)
            {
                Instant from = pieces[i].From, until = pieces[next - 1].Until;
                double mean = area / (until - from).TotalDays;
                yield return new Piece(from, mean, until, mean);
            }
            else
            {
                for (int k = i; k < next; k++)
                {
                    yield return pieces[k];
                }
            }

            i = next;
        }
    }

    private static Instant HourOf(Instant at) => Instant.FromUnixTimeSeconds((long)Math.Floor(at.ToUnixTimeSeconds() / 3600.0) * 3600);
}
