using System.Globalization;
using Incubation.Core.Readings;
using NodaTime;
using NodaTime.Text;

namespace Incubation.Core.Alarms;

/// <summary>What the words of an alarm need besides the alarm.</summary>
/// <param name="IncubatorName">Name of the incubator as people say it.</param>
/// <param name="ProbeName">Name of the probe, or null.</param>
/// <param name="Zone">Zone of the facility.</param>
/// <param name="Fahrenheit">Whether temperatures are said in °F.</param>
/// <param name="Last">The last good reading before a silence, or null when none is known.</param>
public sealed record WordsContext(string IncubatorName, string? ProbeName, DateTimeZone Zone, bool Fahrenheit, LastKnown? Last = null);

/// <summary>What was known last before nothing was heard any more.</summary>
/// <param name="Quantity">Of which quantity.</param>
/// <param name="Value">Its value, in the quantity's unit.</param>
/// <param name="At">When it arrived, on the wall.</param>
public sealed record LastKnown(Quantity Quantity, double Value, Instant At);

/// <summary>An alarm in a plain English sentence: what, where, how far, since when.</summary>
public static class AlarmWords
{
    private static readonly LocalDateTimePattern Clock = LocalDateTimePattern.CreateWithInvariantCulture("HH':'mm");
    private static readonly LocalDateTimePattern DayAndClock = LocalDateTimePattern.CreateWithInvariantCulture("d MMM HH':'mm");

    /// <summary>The sentence.</summary>
    /// <param name="key">Which alarm.</param>
    /// <param name="value">Latest value, in the quantity's unit, or null.</param>
    /// <param name="limit">The limit, or null.</param>
    /// <param name="raisedAt">Since when, on the wall.</param>
    /// <param name="returnedAt">When it went back inside, or null while it holds.</param>
    /// <param name="now">Now, on the wall: a day that is not today is named.</param>
    /// <param name="context">Names, zone, unit.</param>
    public static string Sentence(
        in AlarmKey key, double? value, double? limit, Instant raisedAt, Instant? returnedAt, Instant now, WordsContext context)
    {
        ArgumentNullException.ThrowIfNull(context);
        string since = At(raisedAt, now, context.Zone);
        string what = key.Condition switch
        {
            AlarmCondition.NothingFromAnyProbe => returnedAt is null
                ? $"No probe at all has been heard since {At(context.Last?.At ?? raisedAt, now, context.Zone)}: power, network or broker may be down."
                : $"No probe at all was heard from {since} to {At(returnedAt.Value, now, context.Zone)}; readings come again.",
            AlarmCondition.NoReading => Silent(key, since, returnedAt, now, context),
            AlarmCondition.OwnTrouble => returnedAt is null
                ? $"{OwnTroubles.Of(key.Probe).Stands}; the alarm stands since {since}."
                : $"{OwnTroubles.Of(key.Probe).Over} since {At(returnedAt.Value, now, context.Zone)}; the alarm stood from {since}.",
            _ => Measured(key, value, limit, since, returnedAt, now, context),
        };
        return what;
    }

    /// <summary>One line for a subject: gravity, place, what.</summary>
    public static string Headline(in AlarmKey key, double? value, WordsContext context)
    {
        ArgumentNullException.ThrowIfNull(context);
        string gravity = key.Severity == AlarmSeverity.Danger ? "Danger" : "Warning";
        return key.Condition switch
        {
            AlarmCondition.NothingFromAnyProbe => $"{gravity}: nothing heard from any probe",
            AlarmCondition.OwnTrouble => $"{gravity}: {OwnTroubles.Of(key.Probe).Line}",
            AlarmCondition.NoReading => $"{gravity}: {context.IncubatorName}, {context.ProbeName ?? key.Probe} is silent",
            _ => $"{gravity}: {context.IncubatorName}, {key.Quantity.Name} {(key.Condition == AlarmCondition.High ? "high" : "low")}"
                + (value is double v ? $", {Figure(v, key.Quantity, context.Fahrenheit)}" : ""),
        };
    }

    /// <summary>A value with its unit: "33.6 °C", "92.5 °F", "71 %RH".</summary>
    public static string Figure(double value, Quantity quantity, bool fahrenheit)
        => quantity == Quantity.Temperature
            ? Number(fahrenheit ? Units.CelsiusToFahrenheit(value) : value, "0.0") + (fahrenheit ? " °F" : " °C")
            : quantity == Quantity.Humidity ? Number(value, "0.#") + " %RH" : Number(value, "0.###");

    /// <summary>A difference with its unit: a degree Fahrenheit is five ninths of a degree Celsius.</summary>
    public static string Difference(double value, Quantity quantity, bool fahrenheit)
        => quantity == Quantity.Temperature && fahrenheit
            ? Number(value * 9 / 5, "0.0") + " °F"
            : quantity == Quantity.Temperature ? Number(value, "0.0") + " °C" : Figure(value, quantity, fahrenheit);

    /// <summary>Why an alarm ended although nothing was measured.</summary>
    public static string Because(EndReason reason) => reason switch
    {
        EndReason.IncubatorRetired => "the incubator was taken out of use",
        EndReason.LimitRemoved => "the band no longer has this limit",
        EndReason.BandChanged => "the band was changed and the value is inside the new one",
        EndReason.NoProbeLeft => "no probe is placed there any more",
        EndReason.ProbeMoved => "the probe was taken out or moved",
        _ => "it is over",
    };

    private static string Measured(
        in AlarmKey key, double? value, double? limit, string since, Instant? returnedAt, Instant now, WordsContext context)
    {
        bool high = key.Condition == AlarmCondition.High;
        string kind = $"{(key.Severity == AlarmSeverity.Danger ? "danger" : "warning")} limit";
        string bound = limit is double l ? $"its {kind} of {Figure(l, key.Quantity, context.Fahrenheit)}" : $"its {kind}";
        string side = high ? "above" : "below";
        if (returnedAt is Instant back)
        {
            return $"{context.IncubatorName}: {key.Quantity.Name} is back inside since {At(back, now, context.Zone)}; it was {side} {bound} from {since}.";
        }

        if (value is not double v)
        {
            return $"{context.IncubatorName}: {key.Quantity.Name} went {side} {bound} at {since}; there is no fresh reading now.";
        }

        double past = limit is double x ? (high ? v - x : x - v) : 0;
        string figure = Figure(v, key.Quantity, context.Fahrenheit);
        return past > 0
            ? $"{context.IncubatorName}: {key.Quantity.Name} is {figure}, {Difference(past, key.Quantity, context.Fahrenheit)} {side} {bound}, since {since}."
            : $"{context.IncubatorName}: {key.Quantity.Name} is {figure}, coming back from {side} {bound} since {since}.";
    }

    private static string Silent(in AlarmKey key, string since, Instant? returnedAt, Instant now, WordsContext context)
    {
        string probe = context.ProbeName ?? key.Probe;
        return returnedAt is Instant back
            ? $"{context.IncubatorName}: probe {probe} is heard again since {At(back, now, context.Zone)}; it was silent from {since}."
            : context.Last is { } last
                ? $"{context.IncubatorName}: probe {probe} has sent no good {last.Quantity.Name} since {At(last.At, now, context.Zone)}; "
                    + $"the last was {Figure(last.Value, last.Quantity, context.Fahrenheit)}. The alarm stands since {since}."
                : $"{context.IncubatorName}: no good reading is known from probe {probe}; the alarm stands since {since}.";
    }

    private static string At(Instant at, Instant now, DateTimeZone zone)
    {
        LocalDateTime local = at.InZone(zone).LocalDateTime;
        return (local.Date == now.InZone(zone).Date ? Clock : DayAndClock).Format(local);
    }

    private static string Number(double value, string format) => value.ToString(format, CultureInfo.InvariantCulture).Replace('-', '\u2212');
}
