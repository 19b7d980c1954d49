using System.Collections.Immutable;
using System.Globalization;
using Incubation.Core;
using Incubation.Core.Readings;
using Incubation.Service.Clutches;
using Incubation.Service.Facility;
using Incubation.Service.Hosting;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Incubation.Service.Probes;

/// <summary>What became of a calibration that was sent.</summary>
internal enum CalibrationOutcome
{
    Added,
    AlreadyThere,

    /// <summary>Something else is on record under that id; it stays.</summary>
    IdTaken,

    /// <summary>The form says why not.</summary>
    Refused,
    NoProbe,
}

/// <summary>What became of it, what there is to say, and the entry where there is one.</summary>
internal sealed record CalibrationAnswer(CalibrationOutcome Outcome, EntryForm Form, CalibrationEntry? Entry = null);

/// <summary>
/// Takes calibrations: append-only, under an id of the sender's. An entry corrects what was read since its <c>from</c>, everywhere and at once;
/// alarms are judged by it from the next reading on, and never anew for the past.
/// </summary>
internal sealed class CalibrationDesk(FacilityRegistry registry, ProbeRegister register, CalibrationBook book, ServiceClock clock)
{
    private const string Never = "never";

    public async Task<CalibrationAnswer> PutAsync(string probe, Guid id, CalibrationRequest request, string by, CancellationToken cancellationToken)
    {
        CalibrationEntry? entered = null;
        return await registry.ChangeAsync(
            async (context, token) =>
            {
                var form = new EntryForm();
                if (await register.RecordOfAsync(context, probe, token) is null)
                {
                    return new CalibrationAnswer(CalibrationOutcome.NoProbe, form);
                }

                CalibrationEntry? there = book.Log.Find(id);
                CalibrationEntry? entry = Read(form, probe, id, request, by, there);
                if (entry is null || form.Refused)
                {
                    return new CalibrationAnswer(CalibrationOutcome.Refused, form);
                }

                if (there is not null || await context.Calibrations.AnyAsync(c => c.Id == id, token))
                {
                    return new CalibrationAnswer(there?.SaysTheSame(entry) == true ? CalibrationOutcome.AlreadyThere : CalibrationOutcome.IdTaken, form, there);
                }

                context.Calibrations.Add(CalibrationRows.Row(entry));
                entered = entry;
                return new CalibrationAnswer(CalibrationOutcome.Added, form, entry);
            },
            () => book.Saved(entered!),
            cancellationToken);
    }

    /// <summary>Takes a calibration away by an entry that supersedes it and says nothing. Null when there is none of that id.</summary>
    public async Task<CalibrationEntry?> WithdrawAsync(string probe, Guid id, string by, CancellationToken cancellationToken)
    {
        CalibrationEntry? entered = null;
        return await registry.ChangeAsync(
            (context, _) =>
            {
                if (book.Log.Find(id) is not { } former || former.Series.Probe != probe)
                {
                    return Task.FromResult<CalibrationEntry?>(null);
                }

                if (book.Log.Holds(former))
                {
                    Instant now = Now();
                    entered = new CalibrationEntry(
                        Guid.CreateVersion7(clock.Provider.GetUtcNow()), former.Series, former.From, CalibrationMethod.Withdrawn, [], null, "", id, by, now);
                    context.Calibrations.Add(CalibrationRows.Row(entered));
                }

                return Task.FromResult<CalibrationEntry?>(former);
            },
            () => book.Saved(entered!),
            cancellationToken);
    }

    private Instant Now() => Instant.FromUnixTimeMilliseconds(clock.Wall.ToUnixTimeMilliseconds());

    private CalibrationEntry? Read(EntryForm form, string probe, Guid id, CalibrationRequest request, string by, CalibrationEntry? known)
    {
        if (id == Guid.Empty)
        {
            form.Refuse("id", "An id of its own for each calibration, not only zeros.");
        }

        Quantity quantity = new(request.Quantity ?? "");
        CalibrationMethod? method = CalibrationWords.MethodOf(request.Method);
        if (method is null or CalibrationMethod.Withdrawn)
        {
            form.Refuse("method", "ice bath, reference thermometer, reference hygrometer or saturated salt.");
            return null;
        }

        ImmutableArray<CalibrationPoint> points = Points(form, request, method.Value);
        Instant from = form.TimeOf("from", request.From);
        string note = form.Note("note", request.Note) ?? "";
        if (!CalibrationRules.CanBe(quantity))
        {
            form.Refuse("quantity", "Temperature or humidity: nothing else is calibrated here.");
        }

        if (request.Supersedes is { } former && (book.Log.Find(former) is not { } entry || entry.Series != new SeriesKey(probe, quantity) || former == id))
        {
            form.Refuse("supersedes", "The id of an earlier calibration of the same probe and quantity.");
        }

        if (known is null && book.Log.Of(probe).Count >= Limits.CalibrationsPerProbe)
        {
            form.Refuse("id", string.Create(CultureInfo.InvariantCulture, $"This probe has {Limits.CalibrationsPerProbe} calibrations, which is as many as are kept."));
        }

        if (form.Refused)
        {
            return null;
        }

        // Sent again later, it is still the entry of then.
        var read = new CalibrationEntry(
            id, new SeriesKey(probe, quantity), from, method.Value, points, Due(form, request.NextDue, quantity, from), note, request.Supersedes,
            known?.By ?? by, known?.EnteredAt ?? Now());
        if (!form.Refused)
        {
            form.Take(CalibrationRules.Check(read, clock.Wall, request.Sure == true || known?.SaysTheSame(read) == true));
        }

        return read;
    }

    private static LocalDate? Due(EntryForm form, string? raw, Quantity quantity, Instant from)
    {
        if (raw == Never)
        {
            return null;
        }

        if (raw is not null)
        {
            return form.Date("nextDue", raw);
        }

        LocalDate due = from.InUtc().Date.PlusMonths(CalibrationRules.UsualMonths(quantity));
        form.Say(string.Create(CultureInfo.InvariantCulture,
            $"Due again on {due:yyyy-MM-dd}: after {CalibrationRules.UsualMonths(quantity)} months, which is common practice without a source. Enter another day, or \"never\", as you like."));
        return due;
    }

    private static ImmutableArray<CalibrationPoint> Points(EntryForm form, CalibrationRequest request, CalibrationMethod method)
    {
        IReadOnlyList<CalibrationPointRequest?> sent = request.Points ?? [];
        if (sent.Count is not (1 or 2))
        {
            form.Refuse("points", "One point for an offset, or two for slope and offset.");
            return [];
        }

        var points = ImmutableArray.CreateBuilder<CalibrationPoint>();
        for (int i = 0; i < sent.Count; i++)
        {
            string field = string.Create(CultureInfo.InvariantCulture, $"points[{i}]");
            if (sent[i] is not { Measured: { } measured } point || !double.IsFinite(measured))
            {
                form.Refuse($"{field}.measured", "What the probe said, uncorrected.");
            }
            else if (method == CalibrationMethod.SaturatedSalt)
            {
                OverSalt(form, field, point, request, measured, points);
            }
            else if (point.Truth is { } truth && double.IsFinite(truth))
            {
                points.Add(new CalibrationPoint(measured, truth));
            }
            else if (method == CalibrationMethod.IceBath && i == 0)
            {
                points.Add(new CalibrationPoint(measured, CalibrationWords.IcePoint));
            }
            else
            {
                form.Refuse($"{field}.truth", "What was true there, in °C or %RH.");
            }
        }

        if (method == CalibrationMethod.IceBath && points.Count > 0 && Math.Abs(points[0].Truth - CalibrationWords.IcePoint) > CalibrationWords.IceUncertainty)
        {
            form.Refuse("points[0].truth", "Melting ice is at 0 °C: leave the truth out, or name the reference thermometer as the method.");
        }

        return points.ToImmutable();
    }

    private static void OverSalt(
        EntryForm form, string field, CalibrationPointRequest point, CalibrationRequest request, double measured,
        ImmutableArray<CalibrationPoint>.Builder points)
    {
        if (CalibrationSalt.Find(point.Salt ?? request.Salt) is not { } salt)
        {
            form.Refuse($"{field}.salt", $"One of {string.Join(", ", CalibrationSalt.All.Select(one => one.Key))}.");
            return;
        }

        if ((point.AtCelsius ?? request.AtCelsius) is not (>= CalibrationSalt.LeastCelsius and <= CalibrationSalt.GreatestCelsius))
        {
            form.Refuse($"{field}.atCelsius", "The temperature of the jar, 0 to 50 °C.");
            return;
        }

        double celsius = (point.AtCelsius ?? request.AtCelsius)!.Value, truth = Math.Round(salt.HumidityAt(celsius), 2);
        if (point.Truth is { } said && !(Math.Abs(said - truth) < 0.1))
        {
            form.Refuse($"{field}.truth", string.Create(CultureInfo.InvariantCulture,
                $"Over {salt.Key} at {celsius:0.#} °C it is {truth:0.##} %RH: leave the truth out."));
        }

        points.Add(new CalibrationPoint(measured, truth, salt.Key, celsius));
    }
}
