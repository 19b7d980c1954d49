using Incubation.Core.Readings;

namespace Incubation.Service.Facility;

/// <summary>
/// The bands a new incubator starts with: common practice for pythons and many colubrids, to be changed to the species at hand.
/// </summary>
internal static class BandDefaults
{
    /// <summary>Silence, in seconds, where no band says otherwise.</summary>
    public const int SilentAfterSeconds = 600;

    public static IReadOnlyList<(Quantity Quantity, BandView Band)> All { get; } =
    [
        (Quantity.Temperature, new BandView(29.5, 30.5, 32.5, 33.5, 0.2, 300, 60, 120, 600)),
        (Quantity.Humidity, new BandView(70, 80, null, null, 2, 900, 600, 300, 900)),
    ];
}
