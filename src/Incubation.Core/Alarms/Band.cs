using Incubation.Core.Readings;
using NodaTime;

namespace Incubation.Core.Alarms;

/// <summary>The range a quantity is to stay in inside one incubator, and how patient the alarms are.</summary>
/// <param name="Incubator">Key of the incubator.</param>
/// <param name="Quantity">What is judged.</param>
/// <param name="DangerLow">Danger below this, or null for no such limit; in the quantity's unit, as are the other limits.</param>
/// <param name="WarningLow">Warning below this, or null.</param>
/// <param name="WarningHigh">Warning above this, or null.</param>
/// <param name="DangerHigh">Danger above this, or null.</param>
/// <param name="Deadband">How far back inside a value must come before an alarm may clear; ≥ 0.</param>
/// <param name="WarningOnDelay">How long a value stays beyond a warning limit before the alarm is raised.</param>
/// <param name="DangerOnDelay">How long a value stays beyond a danger limit before the alarm is raised.</param>
/// <param name="OffDelay">How long it stays back inside before the alarm clears.</param>
/// <param name="SilentAfter">Time without a good reading after which a probe is silent.</param>
public sealed record Band(
    string Incubator, Quantity Quantity, double? DangerLow, double? WarningLow, double? WarningHigh, double? DangerHigh,
    double Deadband, Duration WarningOnDelay, Duration DangerOnDelay, Duration OffDelay, Duration SilentAfter);
