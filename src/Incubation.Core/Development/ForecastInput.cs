using NodaTime;

namespace Incubation.Core.Development;

/// <summary>Where an assumed temperature comes from.</summary>
public enum AssumptionBasis
{
    /// <summary>The keeper said so.</summary>
    Keeper,

    /// <summary>Mean of the last three days.</summary>
    RecentMean,

    /// <summary>Mean of everything recorded of this clutch.</summary>
    WholeRecord,

    /// <summary>Middle of the incubator's band.</summary>
    BandMiddle,

    /// <summary>The usual temperature of the species' profile.</summary>
    Profile,
}

/// <summary>A temperature that was assumed where none is known.</summary>
/// <param name="Celsius">°C.</param>
/// <param name="Basis">Where it comes from.</param>
public readonly record struct Assumption(double Celsius, AssumptionBasis Basis);

/// <summary>Everything a forecast is made of; the same input gives the same forecast.</summary>
/// <param name="Profile">The species' profile.</param>
/// <param name="Laid">Instant sums begin at (the middle of the lay date).</param>
/// <param name="LaySlackDays">How many days earlier or later it may have been, ≥ 0.</param>
/// <param name="History">Temperature of the clutch across its placements, °C, with its gaps.</param>
/// <param name="Now">Up to when the history counts.</param>
public sealed record ForecastInput(DevelopmentProfile Profile, Instant Laid, double LaySlackDays, Trace History, Instant Now)
{
    /// <summary>What the keeper believes it had while nothing was recorded, °C, or null.</summary>
    public double? KeeperCelsius { get; init; }

    /// <summary>Middle of the band of the incubator it is in, °C, or null.</summary>
    public double? BandMiddleCelsius { get; init; }

    /// <summary>Standard deviation of the probe's bias, °C: ±0.5 °C is what data sheets of common digital probes allow.</summary>
    public double ProbeBiasSd { get; init; } = 0.5;

    /// <summary>Standard deviation of a temperature that was assumed for a stretch without readings, °C (assumed).</summary>
    public double GapSd { get; init; } = 1.0;

    /// <summary>Standard deviation of the mean temperature of the days to come, °C (assumed).</summary>
    public double AheadSd { get; init; } = 0.3;

    /// <summary>How much recent record the days to come are read from.</summary>
    public Duration RecentWindow { get; init; } = Duration.FromDays(3);
}
