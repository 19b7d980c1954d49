using Incubation.Core.Development;
using NodaTime;

namespace Incubation.Core.Review;

/// <summary>A straight line that lies wholly above, within or below its band.</summary>
/// <param name="Line">The line.</param>
/// <param name="Side">Where it lies; null within the band.</param>
/// <param name="Limit">The limit it is beyond; 0 within.</param>
/// <param name="StartsAtLimit">Whether it starts on the limit (or on a part of its own side before it).</param>
/// <param name="EndsAtLimit">Whether it ends on the limit.</param>
internal readonly record struct OutPart(Piece Line, Side? Side, double Limit, bool StartsAtLimit, bool EndsAtLimit)
{
    public double DegreeHours => Math.Abs(Line.Mean - Limit) * (Line.Until - Line.From).TotalHours;
}

/// <summary>Cuts a trace at the limits of its bands.</summary>
internal static class OutParts
{
    public static IEnumerable<OutPart> Of(Trace trace, IReadOnlyList<BandSpan> bands)
    {
        foreach (BandSpan band in bands.OrderBy(band => band.From))
        {
            foreach (Piece piece in trace.Between(band.From, band.Until).Pieces)
            {
                foreach (OutPart part in Cut(piece, band))
                {
                    yield return part;
                }
            }
        }
    }

    private static List<OutPart> Cut(Piece piece, BandSpan band)
    {
        Span<double> limits = [band.Low ?? double.NegativeInfinity, band.High ?? double.PositiveInfinity];
        var cuts = new List<(Instant At, double Value)>(4) { (piece.From, piece.FromValue) };
        if (piece.UntilValue < piece.FromValue)
        {
            limits.Reverse();
        }

        foreach (double limit in limits)
        {
            bool crosses = (piece.FromValue < limit && limit < piece.UntilValue) || (piece.UntilValue < limit && limit < piece.FromValue);
            if (crosses && Crossing(piece, limit) is { } at && at > cuts[^1].At && at < piece.Until)
            {
                cuts.Add((at, limit));
            }
        }

        cuts.Add((piece.Until, piece.UntilValue));
        var parts = new List<OutPart>(3);
        for (int i = 0; i + 1 < cuts.Count; i++)
        {
            var line = new Piece(cuts[i].At, cuts[i].Value, cuts[i + 1].At, cuts[i + 1].Value);
            Side? side = line.Mean > band.High ? Side.Above : line.Mean < band.Low ? Side.Below : null;
            double limit = side == Side.Above ? band.High!.Value : side == Side.Below ? band.Low!.Value : 0;
            parts.Add(new OutPart(line, side, limit, line.FromValue == limit, line.UntilValue == limit));
        }

        return parts;
    }

    private static Instant Crossing(Piece piece, double limit) =>
        piece.From + ((piece.Until - piece.From) * ((limit - piece.FromValue) / (piece.UntilValue - piece.FromValue)));
}
