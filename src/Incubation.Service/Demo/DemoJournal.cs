using System.Globalization;
using Incubation.Core.Alarms;
using Incubation.Core.Readings;
using Incubation.Storage.Records;
using NodaTime;

namespace Incubation.Service.Demo;

/// <summary>
/// The alarms of the past week, judged from the very readings that are seeded, so that the journal and the curves tell one story.
/// Each was answered by the keeper some minutes after the call.
/// </summary>
internal static class DemoJournal
{
    private static readonly Duration AnsweredAfter = Duration.FromMinutes(4);

    public static List<AlarmJournalRecord> Of(IReadOnlyList<Reading> readings, long seed)
    {
        var chance = new Random(unchecked((int)seed));
        var incubatorOf = DemoFacility.Probes.ToDictionary(p => p.Spec.Key, p => p.Spec.Cabinet);
        var journal = new List<AlarmJournalRecord>();
        foreach (var band in DemoFacility.Bands)
        {
            var series = readings.Where(r => r.Series.Quantity == band.Quantity && incubatorOf[r.Series.Probe] == band.Incubator)
                .OrderBy(r => r.At).ToList();
            foreach (var rule in Rules(band))
            {
                journal.AddRange(Excursions(series, band, rule).SelectMany(e => Entries(band, rule, e, NewId(chance))));
            }
        }
        return [.. journal.OrderBy(entry => entry.At)];
    }

    private static IEnumerable<Rule> Rules(Band band)
    {
        if (band.WarningLow is { } warningLow)
        {
            yield return new(AlarmCondition.Low, AlarmSeverity.Warning, warningLow, band.WarningOnDelay);
        }
        if (band.DangerLow is { } dangerLow)
        {
            yield return new(AlarmCondition.Low, AlarmSeverity.Danger, dangerLow, band.DangerOnDelay);
        }
        if (band.WarningHigh is { } warningHigh)
        {
            yield return new(AlarmCondition.High, AlarmSeverity.Warning, warningHigh, band.WarningOnDelay);
        }
        if (band.DangerHigh is { } dangerHigh)
        {
            yield return new(AlarmCondition.High, AlarmSeverity.Danger, dangerHigh, band.DangerOnDelay);
        }
    }

    private static IEnumerable<Excursion> Excursions(List<Reading> series, Band band, Rule rule)
    {
        var sign = rule.Condition == AlarmCondition.High ? 1 : -1;
        var newest = new Dictionary<string, double>();
        Instant? since = null;
        Instant last = default;
        double first = 0;
        foreach (var reading in series)
        {
            newest[reading.Series.Probe] = reading.Value * sign;
            var worst = newest.Values.Max();
            var beyond = worst > (rule.Limit * sign) - (since is null ? 0 : band.Deadband);
            if (beyond)
            {
                (since, first) = since is null ? (reading.At, worst * sign) : (since, first);
                last = reading.At;
            }
            else if (since is { } began)
            {
                since = null;
                // Between readings five minutes apart nothing is known: the last one beyond must be late enough itself.
                if (last - began >= rule.OnDelay)
                {
                    yield return new Excursion(began + rule.OnDelay, first, reading.At + band.OffDelay, worst * sign);
                }
            }
        }
    }

    private static IEnumerable<AlarmJournalRecord> Entries(Band band, Rule rule, Excursion excursion, Guid occurrence)
    {
        const string Normal = "normal", Open = "unacknowledged", Answered = "acknowledged", Returned = "returned to normal, unacknowledged";
        var name = DemoFacility.Incubators.First(i => i.Key == band.Incubator).Name;
        var side = rule.Condition == AlarmCondition.High ? "above" : "below";
        var unit = band.Quantity == Quantity.Temperature ? "°C" : "%RH";
        var answeredAt = excursion.RaisedAt + AnsweredAfter;
        var inTime = answeredAt < excursion.ReturnedAt;

        AlarmJournalRecord Entry(string what, string from, string to, Instant at, double? value, string? by, string words) => new()
        {
            Occurrence = occurrence,
            Incubator = band.Incubator,
            Probe = "",
            Quantity = band.Quantity.Name,
            Condition = rule.Condition == AlarmCondition.High ? "high" : "low",
            Severity = rule.Severity == AlarmSeverity.Danger ? "danger" : "warning",
            Event = what,
            FromState = from,
            ToState = to,
            At = at,
            Value = value,
            Limit = rule.Limit,
            By = by,
            Words = words,
        };

        yield return Entry("raised", Normal, Open, excursion.RaisedAt, excursion.First, null,
            $"{name} is {side} {Shown(rule.Limit)} {unit}.");
        yield return Entry("called", Open, Open, excursion.RaisedAt + Duration.FromSeconds(1), null, DemoFacility.Keeper,
            $"{DemoFacility.Keeper} was called by mail.");
        yield return Entry("answered", inTime ? Open : Returned, inTime ? Answered : Normal, answeredAt, null, DemoFacility.Keeper,
            $"{DemoFacility.Keeper} is on it.");
        yield return Entry("returned", inTime ? Answered : Open, inTime ? Normal : Returned, excursion.ReturnedAt, excursion.Last, null,
            $"{name} is back in its band.");
    }

    private static string Shown(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);

    private static Guid NewId(Random chance)
    {
        Span<byte> bytes = stackalloc byte[16];
        chance.NextBytes(bytes);
        return new Guid(bytes);
    }

    private sealed record Rule(AlarmCondition Condition, AlarmSeverity Severity, double Limit, Duration OnDelay);

    private sealed record Excursion(Instant RaisedAt, double First, Instant ReturnedAt, double Last);
}
