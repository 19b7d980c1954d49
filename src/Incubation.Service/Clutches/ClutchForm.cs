using System.Globalization;
using Incubation.Core;
using Incubation.Core.Clutches;
using NodaTime;

namespace Incubation.Service.Clutches;

/// <summary>Reads a clutch as entered or edited into Core's clutch, with everything there is to say about it.</summary>
internal sealed class ClutchForm(ClutchCalendar calendar)
{
    /// <summary>Reads the facts of a clutch. Only worth anything while the form has refused nothing.</summary>
    /// <param name="form">Gathers what there is to say.</param>
    /// <param name="facts">As sent.</param>
    /// <param name="eggs">Number of eggs.</param>
    /// <param name="label">Its label, made or read.</param>
    /// <param name="key">Its key.</param>
    /// <param name="by">Who enters it.</param>
    /// <param name="enteredAt">When it was entered first.</param>
    /// <param name="finished">Whether its season is over.</param>
    public (Clutch Clutch, string? Note) Read(
        EntryForm form, ClutchEdit facts, int eggs, string label, string key, string by, Instant enteredAt, bool finished)
    {
        string dam = form.Name("dam", facts.Dam) ?? "";
        string? sire = form.NameOrNone("sire", facts.Sire);
        string? second = form.NameOrNone("secondPerson", facts.SecondPerson);
        string? note = form.Note("note", facts.Note);
        LocalDate laid = form.Date("layDate", facts.LayDate);
        Instant? found = form.Time("foundAt", facts.FoundAt);
        Species? species = facts.Species is null ? null : SpeciesCatalogue.Find(facts.Species);
        var clutch = new Clutch(
            key, label, facts.Species ?? "", dam, sire, new LayDate(laid, facts.LayDateSlackDays ?? 0), eggs, found, facts.FemaleCelsius,
            facts.AssumedCelsius, second, enteredAt);

        // What a field of its own has refused already is not said twice.
        bool datedRight = LocalDateIsRead(facts.LayDate);
        form.Take(ClutchRules.Check(clutch, calendar.Today, finished)
            .Where(r => (r.Field != "dam" || dam.Length > 0) && (r.Field != "layDate" || datedRight)));
        if (species is null)
        {
            form.Refuse("species", $"One of {string.Join(", ", SpeciesCatalogue.All.Select(s => s.Key))}.");
        }
        else
        {
            form.Take(PullingEggs.Check(species, second, by));
        }

        if (found > calendar.Now + Duration.FromMinutes(5))
        {
            form.Refuse("foundAt", "The eggs can't be found in the future: check the time.");
        }
        else if (found is { } at && datedRight && clutch.Laid.SlackDays is >= 0 and <= 30 && at < calendar.LaidFrom(clutch.Laid))
        {
            form.Refuse("foundAt", "The eggs can't be found before they were laid: check this time, or the lay date and how sure it is.");
        }

        return (clutch, note);
    }

    /// <summary>The next free label: "C-01" and so on after the highest there is.</summary>
    public static string NextLabel(ClutchBookPage page)
    {
        int highest = page.Clutches.Values
            .Select(c => c.Clutch.Label.StartsWith("C-", StringComparison.OrdinalIgnoreCase)
                && int.TryParse(c.Clutch.Label.AsSpan(2), NumberStyles.None, CultureInfo.InvariantCulture, out int n) && n < 1_000_000 ? n : 0)
            .DefaultIfEmpty(0).Max();
        return string.Create(CultureInfo.InvariantCulture, $"C-{highest + 1:00}");
    }

    /// <summary>Refuses a label that another clutch has.</summary>
    public static void CheckLabel(EntryForm form, ClutchBookPage page, string label, Guid? self = null)
    {
        if (page.Clutches.Values.Any(c => c.Id != self && string.Equals(c.Clutch.Label, label, StringComparison.OrdinalIgnoreCase)))
        {
            form.Refuse("label", $"There is a clutch {label} already. Was this one entered before? Otherwise give it another label, such as {NextLabel(page)}.");
        }

        if (self is null && page.Clutches.Count >= Limits.Clutches)
        {
            form.Refuse("label", string.Create(CultureInfo.InvariantCulture, $"There are {Limits.Clutches} clutches on record, which is as many as fit."));
        }
    }

    private static bool LocalDateIsRead(string? raw)
        => raw is not null && NodaTime.Text.LocalDatePattern.Iso.Parse(raw) is { Success: true, Value.Year: >= 1990 };
}
