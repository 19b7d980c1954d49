using Incubation.Core.Development;
using NodaTime;

namespace Incubation.Service.Clutches;

/// <summary>What the forecast knows of a clutch; the Development room answers.</summary>
internal interface IClutchForecast
{
    /// <summary>For a line of the list and the first screen: asked often, so from memory or quickly; null where nothing can be said.</summary>
    ValueTask<LineForecast?> LineAsync(BookedClutch clutch, CancellationToken cancellationToken);

    /// <summary>For the clutch's page, words in the scale asked for.</summary>
    ValueTask<PageForecast> PageAsync(BookedClutch clutch, TemperatureScale scale, CancellationToken cancellationToken);
}

/// <summary>What the pairing and the tints say of a clutch; the Genetics and Tint rooms answer.</summary>
internal interface IClutchGenetics
{
    /// <summary>One per trait that the clutch's pairing names.</summary>
    ValueTask<IReadOnlyList<PairingView>> PairingsAsync(BookedClutch clutch, CancellationToken cancellationToken);
}

/// <param name="Stage">Share of the time from laying to pip, 0 to 1.</param>
/// <param name="Pip">When it pips, or null when no pip is to be expected.</param>
internal sealed record LineForecast(double? Stage, PipWindow? Pip);

/// <summary>10, 50 and 90 % of the pip.</summary>
internal sealed record PipWindow(Instant From, Instant Likely, Instant To);

/// <param name="Forecast">The forecast, or null.</param>
/// <param name="Words">In words, or why there is none.</param>
internal sealed record PageForecast(ForecastView? Forecast, string? Words);

/// <summary>The forecast on the clutch's page.</summary>
internal sealed record ForecastView(
    double Stage, double? DegreeDays, Instant? P10, Instant? P50, Instant? P90, string AssumedAhead, IReadOnlyList<GapView> Gaps,
    string Words, string Evidence, string Profile);

/// <summary>A stretch without readings.</summary>
internal sealed record GapView(Instant From, Instant To, double Hours);

/// <summary>A pairing as to one trait, and how its tint marker has done.</summary>
internal sealed record PairingView(
    string Trait, string TraitName, string Inheritance, int DamCopies, int? SireCopies, IReadOnlyList<ShareView> Shares,
    ExpectedView? ExpectedCarriers, GlowingView? Glowing, LikelihoodView? Likelihood, MarkerView? Marker, string? Words = null);

/// <param name="Copies">Copies the young has.</param>
/// <param name="Share">Exactly, "1/2".</param>
/// <param name="P">As a number.</param>
/// <param name="Looks">How such a young looks, in words.</param>
internal sealed record ShareView(int Copies, string Share, double P, string Looks);

/// <summary>Carriers to be expected among the clutch's eggs.</summary>
internal sealed record ExpectedView(double Mean, int Low, int High);

/// <summary>Eggs by what their tint says.</summary>
internal sealed record GlowingView(int Carrier, int Other, int Unsure);

/// <summary>How likely that count of carriers is.</summary>
internal sealed record LikelihoodView(double P, string Words);

/// <summary>How often the marker was right.</summary>
internal sealed record MarkerView(
    IReadOnlyList<string> Terms, int Hits, int Misses, CountedView? Sensitivity, CountedView? Specificity, string Words);

/// <summary>k of n with its 95 % interval.</summary>
internal sealed record CountedView(int K, int N, double Low, double High);

/// <summary>Where no room answers.</summary>
internal sealed class NoForecast : IClutchForecast, IClutchGenetics
{
    public ValueTask<LineForecast?> LineAsync(BookedClutch clutch, CancellationToken cancellationToken) => new((LineForecast?)null);

    public ValueTask<PageForecast> PageAsync(BookedClutch clutch, TemperatureScale scale, CancellationToken cancellationToken)
        => new(new PageForecast(null, null));

    public ValueTask<IReadOnlyList<PairingView>> PairingsAsync(BookedClutch clutch, CancellationToken cancellationToken) => new([]);
}
