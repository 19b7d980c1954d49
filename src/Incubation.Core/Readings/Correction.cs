using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>
/// What a probe's readings of one quantity are corrected by, as of each moment: <c>true = gain × measured + offset</c>. Pieces hold from their
/// start until the next one; before the first nothing is corrected. Readings are stored as measured, so a calibration that is entered late
/// corrects the past.
/// </summary>
/// <param name="Pieces">In time order, with distinct starts.</param>
public sealed record Correction(IReadOnlyList<CorrectionPiece> Pieces)
{
    /// <summary>Corrects nothing.</summary>
    public static Correction None { get; } = new([]);

    /// <summary>Whether nothing is corrected at any time.</summary>
    public bool IsNone => Pieces.Count == 0;

    /// <summary>The piece that holds at a moment, or <see cref="CorrectionPiece.Nothing"/> before the first.</summary>
    public CorrectionPiece At(Instant at)
    {
        for (int i = Pieces.Count - 1; i >= 0; i--)
        {
            if (Pieces[i].From <= at)
            {
                return Pieces[i];
            }
        }

        return CorrectionPiece.Nothing;
    }

    /// <summary>The corrected value of what was measured at a moment, in the same unit.</summary>
    public double Apply(Instant at, double measured) => At(at).Apply(measured);
}

/// <summary>One stretch of a correction.</summary>
/// <param name="From">Since when it holds.</param>
/// <param name="Gain">Slope, without unit; above 0, so that the order of values is kept.</param>
/// <param name="Offset">Added after the slope, in the quantity's unit.</param>
public readonly record struct CorrectionPiece(Instant From, double Gain, double Offset)
{
    /// <summary>Since ever, corrects nothing.</summary>
    public static CorrectionPiece Nothing { get; } = new(Instant.MinValue, 1, 0);

    /// <summary>The corrected value, in the same unit.</summary>
    public double Apply(double measured) => Gain * measured + Offset;
}
