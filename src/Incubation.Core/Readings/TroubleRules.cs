using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>
/// The figures by which trouble in a probe is told from an incubator's own life. Where no source is named it is common practice, no source,
/// checked against simulated weeks of healthy incubators (tests) so that a false word is rare.
/// </summary>
public static class TroubleRules
{
    /// <summary>Most points of evidence kept with a trouble: a small picture.</summary>
    public const int EvidencePoints = 48;

    /// <summary>How long a probe must have been watched where its own past is the measure: a whole day and night.</summary>
    public static Duration Watched { get; } = Duration.FromHours(24);

    /// <summary>A value that stands still is looked at from here on.</summary>
    public static Duration StuckAtLeast { get; } = Duration.FromHours(1);

    /// <summary>…and with others that moved, from here on: longer than a tub of ordinary size lags its air.</summary>
    public static Duration StuckBesideOthers { get; } = Duration.FromHours(2);

    /// <summary>Equal values in a row below which nothing is said.</summary>
    public const int StuckReadings = 60;

    /// <summary>How many times longer than the longest stillness of the past week.</summary>
    public const double StuckTimes = 6;

    /// <summary>How far hourly means must have moved on each of two days before, in steps of the probe, so that its past knows every part of a step.</summary>
    public const double StuckStepsADay = 1.5;

    /// <summary>How far the other probes' hourly means must move while one stands still: °C, %RH.</summary>
    public static double OthersMoved(Quantity quantity) => quantity == Quantity.Humidity ? 4 : 0.4;

    /// <summary>From here a humidity sensor is saturated or nearly so, and standing still is what it does, %RH.</summary>
    public const double NearlySaturated = 98;

    /// <summary>
    /// Jump that is possible at once: °C, %RH. A probe of 5 s response that is lifted out of 31 °C, or breath on a humidity sensor, makes more
    /// only over several readings, which <see cref="JumpPerSecond"/> grants.
    /// </summary>
    public static double JumpAtOnce(Quantity quantity) => quantity == Quantity.Humidity ? 20 : 2;

    /// <summary>Change per second that an open door can make, and the probe's being moved: °C/s, %RH/s.</summary>
    public static double JumpPerSecond(Quantity quantity) => quantity == Quantity.Humidity ? 1 : 0.1;

    /// <summary>Jumps within <see cref="JumpWithin"/> from which on it is trouble: one may be a touch of the hand.</summary>
    public const int Jumps = 2;

    /// <summary>Jumps are forgotten after so long.</summary>
    public static Duration JumpWithin { get; } = Duration.FromHours(24);

    /// <summary>How many times more than in the past the values must scatter, for three hours; half of it clears.</summary>
    public const double NoiseTimes = 4;

    /// <summary>Scatter below which it is nobody's trouble, whatever it was before: °C, %RH.</summary>
    public static double NoiseAtLeast(Quantity quantity) => quantity == Quantity.Humidity ? 0.8 : 0.08;

    /// <summary>
    /// Change of the difference of two probes in the same air or the same tub that their accuracy does not explain: 0.5 °C is what a DS18B20
    /// may be off by (Maxim data sheet: ±0.5 °C from −10 to 85 °C); 6 %RH is twice three times the ±2 %RH of an SHT3x, for ageing and
    /// the time near saturation.
    /// </summary>
    public static double Accuracy(Quantity quantity) => quantity == Quantity.Humidity ? 6 : 0.5;

    /// <summary>
    /// The same between the air and a tub, within a week, °C: eggs of a large clutch warm themselves by up to 2.5 °C, over weeks
    /// (sea turtle clutches: Frontiers in Ecology and Evolution 2020, 556379).
    /// </summary>
    public const double AirToTub = 1.2;

    /// <summary>Difference of two probes of which nothing is known from before: °C, %RH.</summary>
    public static double NeverAgreed(Quantity quantity) => quantity == Quantity.Humidity ? 20 : 3;

    /// <summary>How many spreads of the past difference.</summary>
    public const double DisagreeSpreads = 5;

    /// <summary>Hours looked at, of which all but one must say so: a fan that stands still for three hours is not a probe's fault.</summary>
    public const int DisagreeHours = 6;

    /// <summary>Fall of a tub's probe within 20 minutes, °C: two kilograms of wet substrate beside an open door lose a tenth of it.</summary>
    public const double FallCelsius = 3;

    /// <summary>Fall of a tub's humidity within 20 minutes, %RH, where the air's did not fall as well.</summary>
    public const double FallHumidity = 15;

    /// <summary>How long it must stay down: longer than a candling.</summary>
    public static Duration FallStays { get; } = Duration.FromMinutes(40);

    /// <summary>Hours in which the air swings by so much tell how a tub's probe follows it, °C.</summary>
    public const double SwingCelsius = 0.35;

    /// <summary>Share of the air's swing from which on a probe may be in the air: one of a minute's response makes half of a quick thermostat's sawtooth.</summary>
    public const double FollowsShare = 0.4;

    /// <summary>…when that share, and its own swing, are so many times what they were.</summary>
    public const double FollowsTimes = 2;

    /// <summary>Share of the air's swing below which it has its tub's calm again.</summary>
    public const double FollowedShare = 0.3;

    /// <summary>Below the air by so much for hours, and not catching up: it reads the room, °C.</summary>
    public const double LikeTheRoom = 4;
}
