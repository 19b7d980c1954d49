using Incubation.Core.Candling;
using Incubation.Core.Development;
using NodaTime;

namespace Incubation.Core.Review;

/// <summary>One probe's own record.</summary>
/// <param name="Probe">The probe.</param>
/// <param name="Where">Where it was, in the keeper's words.</param>
/// <param name="Trace">What it measured while it spoke for the clutch.</param>
public sealed record ProbeTrace(string Probe, string Where, Trace Trace);

/// <summary>Whether a probe says the same of a stretch.</summary>
public enum ProbeVerdict
{
    /// <summary>It was out of band on the same side.</summary>
    SaysSo,

    /// <summary>It was in band throughout, or out on the other side.</summary>
    SaysNot,

    /// <summary>It has no readings of that stretch.</summary>
    Silent,
}

/// <summary>What one probe says of a stretch.</summary>
/// <param name="Probe">The probe.</param>
/// <param name="Where">Where it was.</param>
/// <param name="Verdict">Whether it says the same.</param>
/// <param name="Furthest">Its furthest value towards that side during the stretch, or null when silent.</param>
public sealed record ProbeSays(string Probe, string Where, ProbeVerdict Verdict, double? Furthest);

/// <summary>A stretch out of band with what goes with it.</summary>
/// <param name="Excursion">The stretch.</param>
/// <param name="StageFrom">Stage at its start, 0 to 1, or null when not known.</param>
/// <param name="StageUntil">Stage at its end, or null.</param>
/// <param name="Probes">What each probe says of it.</param>
public sealed record ReviewedStretch(Excursion Excursion, double? StageFrom, double? StageUntil, IReadOnlyList<ProbeSays> Probes);

/// <summary>What a review is made of.</summary>
/// <param name="Clutch">Temperature of the clutch, °C.</param>
/// <param name="Probes">Each probe's own record.</param>
/// <param name="Bands">Limits over time.</param>
/// <param name="From">Start: laying.</param>
/// <param name="Until">End: last egg out, or now.</param>
/// <param name="Stage">Stage over time, or null when the species has no profile.</param>
/// <param name="Eggs">What came out.</param>
/// <param name="JoinWithin">Stretches no further apart are told as one.</param>
public sealed record ReviewInput(
    Trace Clutch, IReadOnlyList<ProbeTrace> Probes, IReadOnlyList<BandSpan> Bands, Instant From, Instant Until, StageCurve? Stage,
    EggCounts Eggs, Duration JoinWithin);

/// <summary>What a clutch went through.</summary>
/// <param name="Stretches">Out of band, in time order.</param>
/// <param name="Gaps">Without readings, in time order.</param>
/// <param name="Exposure">In all.</param>
/// <param name="MeanCelsius">Time-weighted mean of what is known, °C, or null.</param>
/// <param name="Eggs">What came out.</param>
/// <param name="Length">From laying to the end.</param>
public sealed record ClutchReview(
    IReadOnlyList<ReviewedStretch> Stretches, IReadOnlyList<Interval> Gaps, Exposure Exposure, double? MeanCelsius, EggCounts Eggs,
    Duration Length)
{
    /// <summary>Hours without readings.</summary>
    public double GapHours => Gaps.Sum(gap => gap.Duration.TotalHours);

    /// <summary>Makes the review.</summary>
    public static ClutchReview Of(ReviewInput input)
    {
        ArgumentNullException.ThrowIfNull(input);
        Trace clutch = input.Clutch.Between(input.From, input.Until);
        ReviewedStretch[] stretches =
        [
            .. Excursions.Find(clutch, input.Bands, input.JoinWithin).Select(excursion => new ReviewedStretch(
                excursion, input.Stage?.At(excursion.From), input.Stage?.At(excursion.Until),
                [.. input.Probes.Select(probe => Ask(probe, excursion, input.Bands))])),
        ];
        return new ClutchReview(
            stretches, clutch.Gaps(input.From, input.Until), Exposure.Of(clutch, input.Bands),
            clutch.Mean(input.From, input.Until), input.Eggs, input.Until - input.From);
    }

    private static ProbeSays Ask(ProbeTrace probe, Excursion excursion, IReadOnlyList<BandSpan> bands)
    {
        Trace part = probe.Trace.Between(excursion.From, excursion.Until);
        if (part.Pieces.Count == 0)
        {
            return new ProbeSays(probe.Probe, probe.Where, ProbeVerdict.Silent, null);
        }

        IEnumerable<double> ends = part.Pieces.SelectMany(piece => new[] { piece.FromValue, piece.UntilValue });
        double furthest = excursion.Side == Side.Above ? ends.Max() : ends.Min();
        bool same = Excursions.Find(part, bands).Any(own => own.Side == excursion.Side);
        return new ProbeSays(probe.Probe, probe.Where, same ? ProbeVerdict.SaysSo : ProbeVerdict.SaysNot, furthest);
    }
}
