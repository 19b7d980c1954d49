using Incubation.Core.Alarms;
using Incubation.Service.Probes;

namespace Incubation.Service.Facility;

/// <summary>What makes or renames an incubator.</summary>
internal sealed record IncubatorRequest(string? Name, int? Position);

/// <summary>An incubator in use.</summary>
internal sealed record IncubatorView(string Key, string Name, int Position);

/// <summary>An incubator with its bands by quantity and the probes in it.</summary>
internal sealed record IncubatorDetail(
    string Key, string Name, int Position, IReadOnlyDictionary<string, BandView> Bands, IReadOnlyList<ProbeView> Probes);

/// <summary>Limits in the quantity's unit, null for none; times in whole seconds.</summary>
internal sealed record BandRequest(
    double? DangerLow, double? WarningLow, double? WarningHigh, double? DangerHigh, double? Deadband,
    int? WarningOnDelaySeconds, int? DangerOnDelaySeconds, int? OffDelaySeconds, int? SilentAfterSeconds);

/// <summary>The band that holds.</summary>
internal sealed record BandView(
    double? DangerLow, double? WarningLow, double? WarningHigh, double? DangerHigh, double Deadband,
    int WarningOnDelaySeconds, int DangerOnDelaySeconds, int OffDelaySeconds, int SilentAfterSeconds)
{
    public static BandView Of(Band band) => new(
        band.DangerLow, band.WarningLow, band.WarningHigh, band.DangerHigh, band.Deadband,
        (int)band.WarningOnDelay.TotalSeconds, (int)band.DangerOnDelay.TotalSeconds,
        (int)band.OffDelay.TotalSeconds, (int)band.SilentAfter.TotalSeconds);
}
