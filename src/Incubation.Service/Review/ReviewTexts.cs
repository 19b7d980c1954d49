using System.Globalization;
using Incubation.Core.Clutches;
using Incubation.Core.Development;
using Incubation.Core.Review;
using Incubation.Storage.Records;
using NodaTime;
using NodaTime.Text;

namespace Incubation.Service.Review;

/// <summary>Sentences of a review that need the records. They say what goes together, never what the cause was.</summary>
internal static class ReviewTexts
{
    private static readonly LocalDateTimePattern Clock = LocalDateTimePattern.CreateWithInvariantCulture("d MMM HH:mm");

    public static string Word(Side side) => side == Side.Above ? "above" : "below";

    public static string Near(ProbeNearness nearness) => nearness == ProbeNearness.Tub ? "in its tub" : "in the air of its incubator";

    public static string At(Instant at, DateTimeZone zone) => Clock.Format(at.InZone(zone).LocalDateTime);

    public static string Says(ProbeSays probe, Side side, TemperatureScale scale) => probe switch
    {
        { Verdict: ProbeVerdict.Silent } => "has no readings of it",
        { Verdict: ProbeVerdict.SaysSo, Furthest: { } far } => $"says so: {Word(side)} the band, as far as {TemperatureWords.Value(far, scale)}",
        { Furthest: { } far } => $"does not say so: {(side == Side.Above ? "never above" : "never below")} {TemperatureWords.Value(far, scale)}",
        _ => "says nothing",
    };

    public static string Alarm(AlarmSpan alarm, DateTimeZone zone)
    {
        string answer = alarm switch
        {
            { AnsweredBy: { } by, AnsweredAt: { } at } => $"{by} was on it after {ForecastWords.Length(at - alarm.RaisedAt)}.",
            _ => "Nobody answered it.",
        };
        return $"{(alarm.Severity == "danger" ? "Danger" : "Warning")} raised {At(alarm.RaisedAt, zone)}: {alarm.Words} {answer}";
    }

    public static string Care(CareRecord line, DateTimeZone zone)
    {
        string water = line.WaterGrams is { } grams ? string.Create(CultureInfo.InvariantCulture, $", {grams:0.#} g") : "";
        string note = string.IsNullOrWhiteSpace(line.Note) ? "" : $": {line.Note}";
        return $"{At(line.At, zone)} {line.Kind}{water} ({line.On} {line.Key}), {line.By}{note}";
    }

    /// <summary>A stretch with its alarms and care lines, in a few sentences.</summary>
    public static string Stretch(
        ReviewedStretch stretch, IReadOnlyList<AlarmSpan> alarms, IReadOnlyList<CareRecord> before, DateTimeZone zone, TemperatureScale scale)
    {
        string alarm = alarms.Count == 0
            ? "No alarm of it is on record."
            : string.Join(" ", alarms.Select(a => Alarm(a, zone)));
        string care = before.Count == 0
            ? ""
            : $" Its beginning is consistent with the care log: {string.Join("; ", before.Select(line => Care(line, zone)))}.";
        string disagree = stretch.Probes.Any(p => p.Verdict == ProbeVerdict.SaysNot) && stretch.Probes.Any(p => p.Verdict == ProbeVerdict.SaysSo)
            ? " Not every probe says so."
            : "";
        return $"{At(stretch.Excursion.From, zone)}: {ReviewWords.Stretch(stretch, scale)}{disagree} {alarm}{care}";
    }

    public static string Gap(Interval gap, IReadOnlyList<AlarmSpan> alarms, DateTimeZone zone)
    {
        string alarm = alarms.Count == 0 ? "" : $" {string.Join(" ", alarms.Select(a => Alarm(a, zone)))}";
        return $"{ForecastWords.Length(gap.Duration)} from {At(gap.Start, zone)} without readings; nothing can be said about them.{alarm}";
    }
}
