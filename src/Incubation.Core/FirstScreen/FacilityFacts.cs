using Incubation.Core.Alarms;
using Incubation.Core.Readings;
using NodaTime;

namespace Incubation.Core.FirstScreen;

/// <summary>How much a value can be trusted.</summary>
public enum ReadingQuality
{
    /// <summary>Good and fresh.</summary>
    Good,

    /// <summary>The probe sends, but what it sends is a fault of the probe.</summary>
    Faulty,

    /// <summary>No good reading for longer than the band allows.</summary>
    Silent,

    /// <summary>Never heard, or of unknown age.</summary>
    Unknown,
}

/// <summary>Where a value stands against its band.</summary>
public enum BandStanding
{
    /// <summary>Inside the warning limits.</summary>
    InBand,

    /// <summary>Above the warning limit.</summary>
    WarningHigh,

    /// <summary>Above the danger limit.</summary>
    DangerHigh,

    /// <summary>Below the warning limit.</summary>
    WarningLow,

    /// <summary>Below the danger limit.</summary>
    DangerLow,

    /// <summary>No good fresh value, or no limits to hold it against.</summary>
    NotJudged,
}

/// <summary>One quantity of one incubator as it stands.</summary>
/// <param name="Quantity">What is measured.</param>
/// <param name="Value">Latest good value in the quantity's unit (°C, %RH), or null.</param>
/// <param name="Quality">How far <paramref name="Value"/> can be trusted.</param>
/// <param name="Standing">Where it stands against the band.</param>
/// <param name="Unheard">Names of placed probes of this quantity that are not good and fresh.</param>
public sealed record QuantityFacts(
    Quantity Quantity, double? Value, ReadingQuality Quality, BandStanding Standing, IReadOnlyList<string> Unheard);

/// <summary>One incubator as it stands.</summary>
/// <param name="Key">Its key.</param>
/// <param name="Name">What people call it.</param>
/// <param name="HasProbe">Whether any probe is placed in it.</param>
/// <param name="Quantities">What is measured in it.</param>
public sealed record IncubatorFacts(string Key, string Name, bool HasProbe, IReadOnlyList<QuantityFacts> Quantities);

/// <summary>A standing alarm with the names that people use.</summary>
/// <param name="Alarm">The alarm.</param>
/// <param name="IncubatorName">Name of its incubator; empty for the whole facility.</param>
/// <param name="ProbeName">Name of its probe; empty where the condition is not about one.</param>
/// <param name="Last">For a silence: what was known last, or null when nothing is.</param>
public sealed record AlarmFacts(StandingAlarm Alarm, string IncubatorName, string ProbeName, LastKnown? Last = null);

/// <summary>Something is wrong with the service itself, so that what it shows can't be relied on.</summary>
/// <param name="Tone">How it feels; never calm.</param>
/// <param name="Sentence">What is wrong.</param>
/// <param name="Next">Cause and what to do.</param>
/// <param name="Kind">A kind of <see cref="OwnTroubles"/> when people are called for it, else null.</param>
public sealed record ServiceTrouble(HeadlineTone Tone, string Sentence, string Next, string? Kind = null);

/// <summary>Everything the headline is made from.</summary>
/// <param name="Now">The moment it is for.</param>
/// <param name="Zone">The facility's time zone: clock times in sentences are local.</param>
/// <param name="Scale">Scale of temperatures in sentences.</param>
/// <param name="Incubators">Incubators in use.</param>
/// <param name="Alarms">All alarms that are not normal.</param>
/// <param name="SomebodyIsCalled">Whether an alarm would reach anybody.</param>
/// <param name="FirstToDo">What is to be set up first, as a sentence, or null when nothing is left.</param>
/// <param name="ClockDoubt">Why the clock of the service's machine is not trusted, in words, or null when it is.</param>
/// <param name="Troubles">What else is wrong with the service itself, or null.</param>
/// <param name="ProbeTroubles">Serious troubles of probes in words, one probe each, or null. Said last; they hide no alarm.</param>
/// <param name="Store">How the store of readings is, or null when that is not asked.</param>
public sealed record FacilityFacts(
    Instant Now, DateTimeZone Zone, TemperatureScale Scale, IReadOnlyList<IncubatorFacts> Incubators,
    IReadOnlyList<AlarmFacts> Alarms, bool SomebodyIsCalled, string? FirstToDo = null,
    StoreState? Store = null, string? ClockDoubt = null, IReadOnlyList<ServiceTrouble>? Troubles = null,
    IReadOnlyList<string>? ProbeTroubles = null);
