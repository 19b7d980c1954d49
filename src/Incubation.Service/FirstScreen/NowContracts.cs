using System.Text.Json.Serialization;
using Incubation.Service.Clutches;

namespace Incubation.Service.FirstScreen;

/// <summary>The whole first screen. Values are in the quantity's own unit; only sentences use the scale that was asked for.</summary>
/// <param name="At">The moment it is of, RFC 3339 in UTC.</param>
/// <param name="Facility">What the place is called.</param>
/// <param name="Zone">Its IANA time zone.</param>
/// <param name="Headline">What to read first.</param>
/// <param name="Incubators">The room as it stands, from the left.</param>
/// <param name="Alarms">All standing alarms, the most urgent first.</param>
/// <param name="NotPlaced">Probes that are heard but not placed.</param>
/// <param name="CallOut">Whether an alarm would reach anybody.</param>
/// <param name="ToDo">What is left to set up and to do.</param>
internal sealed record NowView(
    string At, string Facility, string Zone, HeadlineView Headline, IReadOnlyList<IncubatorNow> Incubators,
    IReadOnlyList<AlarmNow> Alarms, int NotPlaced, CallOutNow CallOut, IReadOnlyList<ToDoView> ToDo);

/// <param name="Tone">"calm", "warning", "danger" or "unknown".</param>
/// <param name="Sentence">What is wrong, where, by how much and for how long; or that all is well.</param>
/// <param name="Next">Who has it, who is called next, or what to do.</param>
/// <param name="Detail">What else there is to know, or null.</param>
/// <param name="Occurrence">The alarm that the sentence is about, or null.</param>
/// <param name="Incubator">Key of its incubator, or null.</param>
internal sealed record HeadlineView(string Tone, string Sentence, string Next, string? Detail, Guid? Occurrence, string? Incubator);

/// <summary>One incubator on the first screen, with the clutches that lie in it.</summary>
internal sealed record IncubatorNow(
    string Key, string Name, int Position, IReadOnlyList<QuantityNow> Quantities, IReadOnlyList<AlarmNow> Alarms,
    IReadOnlyList<ClutchLine> Clutches);

/// <param name="Quantity">"temperature", "humidity", …</param>
/// <param name="Unit">"Cel", "%RH" or empty.</param>
/// <param name="Value">Latest good value of <paramref name="Probe"/>, or null.</param>
/// <param name="At">When it was measured, RFC 3339 in UTC, or null.</param>
/// <param name="Quality">"good", "faulty", "silent" or "unknown".</param>
/// <param name="Probe">The probe that is furthest from the middle of the band, or null.</param>
/// <param name="PerHour">Robust slope over the last hour, per hour, or null.</param>
/// <param name="Band">Its limits, or null.</param>
/// <param name="Standing">"in band", "warning high", "danger high", "warning low", "danger low" or "not judged".</param>
/// <param name="LastHour">Pairs of seconds ago and value, oldest first.</param>
internal sealed record QuantityNow(
    string Quantity, string Unit, double? Value, string? At, string Quality, string? Probe, double? PerHour, LimitsNow? Band,
    string Standing, IReadOnlyList<double[]> LastHour);

/// <summary>Limits of a band, each in the quantity's unit or null.</summary>
internal sealed record LimitsNow(double? DangerLow, double? WarningLow, double? WarningHigh, double? DangerHigh);

/// <param name="Reachable">Whether an alarm would reach anybody.</param>
/// <param name="Words">The same in words.</param>
internal sealed record CallOutNow(bool Reachable, string Words);

/// <param name="When">"now", "today" or "before tonight".</param>
/// <param name="What">What to do.</param>
/// <param name="Href">Page of the web app on which it is done.</param>
internal sealed record ToDoView(string When, string What, string Href)
{
    public const string Now = "now", Today = "today", BeforeTonight = "before tonight";

    /// <summary>The more urgent first.</summary>
    [JsonIgnore]
    public int Urgency => When switch { Now => 0, BeforeTonight => 1, _ => 2 };
}

/// <summary>One standing alarm on the first screen; the same shape as an entry of <c>/api/alarms</c>.</summary>
internal sealed record AlarmNow(
    Guid Occurrence, string Incubator, string IncubatorName, string Probe, string Quantity, string Condition, string Severity, string State,
    string RaisedAt, double? Value, double? Limit, double? Peak, string? AnsweredBy, string? AnsweredAt, string? ReturnedAt,
    NextCallNow? NextCall, string Words);

/// <param name="Who">Name of the person.</param>
/// <param name="At">When, RFC 3339 in UTC.</param>
internal sealed record NextCallNow(string Who, string At);
