using System.Globalization;
using Incubation.Core.Candling;
using Incubation.Core.Development;
using NodaTime;

namespace Incubation.Core.Review;

/// <summary>One line of a comparison of two clutches.</summary>
/// <param name="What">What is compared, with its unit.</param>
/// <param name="This">Of the clutch reviewed, or null when not known.</param>
/// <param name="Against">Of the clutch it is held against, or null when not known.</param>
/// <param name="Words">The difference in words.</param>
public sealed record ComparisonLine(string What, double? This, double? Against, string Words);

/// <summary>A review in words. It says what goes together; never what the cause was.</summary>
public static class ReviewWords
{
    /// <summary>Stands under every review.</summary>
    public const string Caveat =
        "This page shows what was recorded, and what it is consistent with. It does not show why an egg died: much that matters "
        + "leaves no trace here, and no table of how long python eggs bear which temperature has been published.";

    /// <summary>A stretch in one sentence.</summary>
    public static string Stretch(ReviewedStretch stretch, TemperatureScale scale)
    {
        ArgumentNullException.ThrowIfNull(stretch);
        Excursion out_ = stretch.Excursion;
        string side = out_.Side == Side.Above ? "above" : "below";
        string open = (out_.OpenStart, out_.OpenEnd) switch
        {
            (true, true) => "; the record begins and ends out of band, so it may have been longer",
            (true, _) => "; the record begins out of band, so it may have been longer",
            (_, true) => "; the record ends out of band, so it may have been longer",
            _ => "",
        };
        string stage = stretch.StageFrom is { } from
            ? string.Create(CultureInfo.InvariantCulture, $", at stage {from * 100:0} %")
            : "";
        return $"{ForecastWords.Length(out_.Length)} {side} the band, as far as {TemperatureWords.Value(out_.Peak, scale)} "
            + $"({TemperatureWords.DegreeHours(out_.DegreeHours, scale)}){stage}{open}.";
    }

    /// <summary>The whole review in two or three sentences.</summary>
    public static string Sentence(ClutchReview review, TemperatureScale scale)
    {
        ArgumentNullException.ThrowIfNull(review);
        ReviewedStretch? worst = review.Stretches.MaxBy(stretch => stretch.Excursion.DegreeHours);
        string hatch = Hatch(review.Eggs);
        string gaps = review.GapHours >= 1
            ? $" {ForecastWords.Length(Duration.FromHours(review.GapHours))} are without readings, and nothing can be said about them."
            : "";
        if (worst is null)
        {
            return $"{hatch} No stretch out of band was recorded.{gaps}";
        }

        string number = review.Stretches.Count == 1
            ? "One stretch out of band was recorded"
            : string.Create(CultureInfo.InvariantCulture, $"{review.Stretches.Count} stretches out of band were recorded; the heaviest");
        return $"{hatch} {number}: {Stretch(worst, scale)}{Consistent(review.Eggs)}{gaps}";
    }

    /// <summary>Two clutches line by line.</summary>
    public static IReadOnlyList<ComparisonLine> Compare(ClutchReview review, ClutchReview against)
    {
        ArgumentNullException.ThrowIfNull(review);
        ArgumentNullException.ThrowIfNull(against);
        return
        [
            Line("mean temperature, °C", review.MeanCelsius, against.MeanCelsius, 0.1, "warmer", "cooler"),
            Line("hours above the band", review.Exposure.HoursAbove, against.Exposure.HoursAbove, 0.5, "longer", "shorter"),
            Line("degree-hours above, °C·h", review.Exposure.DegreeHoursAbove, against.Exposure.DegreeHoursAbove, 0.5, "more", "less"),
            Line("hours below the band", review.Exposure.HoursBelow, against.Exposure.HoursBelow, 0.5, "longer", "shorter"),
            Line("degree-hours below, °C·h", review.Exposure.DegreeHoursBelow, against.Exposure.DegreeHoursBelow, 0.5, "more", "less"),
            Line("hours without readings", review.GapHours, against.GapHours, 0.5, "longer", "shorter"),
            Line("hatched, share of eggs laid", Share(review.Eggs), Share(against.Eggs), 0.005, "more", "fewer"),
        ];
    }

    private static ComparisonLine Line(string what, double? mine, double? other, double same, string more, string less) =>
        new(what, mine, other, (mine, other) switch
        {
            (null, _) or (_, null) => "not known of both",
            ({ } a, { } b) when Math.Abs(a - b) < same => "about the same",
            ({ } a, { } b) => a > b ? more : less,
        });

    private static double? Share(EggCounts eggs) => eggs.Laid > 0 ? (double)eggs.Hatched / eggs.Laid : null;

    private static string Hatch(EggCounts eggs) => string.Create(CultureInfo.InvariantCulture,
        $"{eggs.Hatched} of {eggs.Laid} eggs hatched; {eggs.Dead} dead, {eggs.Slug} {(eggs.Slug == 1 ? "slug" : "slugs")}.");

    private static string Consistent(EggCounts eggs) => eggs.Dead > 0
        ? " The dead eggs are consistent with its having played a part, and with other things that leave no trace here."
        : "";
}
