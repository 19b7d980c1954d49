using Incubation.Core.Air;
using NodaTime;

namespace Incubation.Service.Air;

/// <summary>
/// The air in an incubator now: °C, %RH, g/m³, kPa. Every figure is null when no hygrometer there is good and fresh; the words say so.
/// <c>dripsBelow</c> is the dew point: what is as cool or cooler drips.
/// </summary>
internal sealed record AirView(
    Instant? At, double? Celsius, double? Humidity, double? DewPoint, double? AbsoluteHumidity, double? VapourPressureDeficit,
    AirSpreadView? Spread, double? DripsBelow, bool Saturated, string Words, string? Probe, string? TemperatureProbe);

/// <summary>The least and the most that each figure can be.</summary>
internal sealed record AirSpreadView(
    Spread Celsius, Spread Humidity, Spread DewPoint, Spread AbsoluteHumidity, Spread VapourPressureDeficit, Spread DripsBelow);
