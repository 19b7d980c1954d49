using NodaTime;

namespace Incubation.Core.Development;

/// <summary>Several probes as one trace.</summary>
public static class TraceMean
{
    /// <summary>
    /// At each instant the mean of the traces that know it. Where one falls silent the others go on alone, so the mean may jump
    /// there; it is never drawn across a gap of all.
    /// </summary>
    public static Trace Of(IReadOnlyList<Trace> traces)
    {
        ArgumentNullException.ThrowIfNull(traces);
        Trace[] known = [.. traces.Where(trace => trace.Pieces.Count > 0)];
        if (known.Length <= 1)
        {
            return known.Length == 0 ? Trace.Empty : known[0];
        }

        Instant[] cuts =
        [
            .. known.SelectMany(trace => trace.Pieces).SelectMany(piece => new[] { piece.From, piece.Until }).Distinct().Order(),
        ];
        int[] next = new int[known.Length];
        var pieces = new List<Piece>(cuts.Length);
        for (int i = 0; i + 1 < cuts.Length; i++)
        {
            double from = 0, until = 0;
            int speaking = 0;
            for (int t = 0; t < known.Length; t++)
            {
                IReadOnlyList<Piece> line = known[t].Pieces;
                while (next[t] < line.Count && line[next[t]].Until <= cuts[i])
                {
                    next[t]++;
                }

                if (next[t] < line.Count && line[next[t]].From <= cuts[i])
                {
                    from += line[next[t]].At(cuts[i]);
                    until += line[next[t]].At(cuts[i + 1]);
                    speaking++;
                }
            }

            if (speaking > 0)
            {
                pieces.Add(new Piece(cuts[i], from / speaking, cuts[i + 1], until / speaking));
            }
        }

        return Trace.Of(pieces);
    }
}
