using System.Globalization;
using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>Says what a plan lacks before a file can be read by it.</summary>
public static class ImportPlanCheck
{
    /// <summary>What is wrong, by the field that is; empty when the file can be read.</summary>
    public static IReadOnlyDictionary<string, string[]> Problems(ImportPlan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        Dictionary<string, string[]> problems = [];
        if (plan.Columns.Count is 0 or > Limits.ImportColumns)
        {
            problems["columns"] = [string.Create(CultureInfo.InvariantCulture, $"1 to {Limits.ImportColumns} columns.")];
            return problems;
        }

        if (Time(plan) is { } time)
        {
            problems["columns"] = [time];
        }

        if (plan.TimeForm is null)
        {
            problems["timeForm"] = ["say how times are written: which of day and month comes first can't be told from the file."];
        }

        if (DateTimeZoneProviders.Tzdb.GetZoneOrNull(plan.Zone) is null)
        {
            problems["zone"] = ["an IANA time zone such as Europe/Lisbon."];
        }

        foreach ((ImportRole role, string name) in new[] { (ImportRole.Probe, "probe"), (ImportRole.Quantity, "quantity"), (ImportRole.Unit, "unit"), (ImportRole.Marks, "marks") })
        {
            if (plan.Columns.Count(column => column.Role == role) > 1)
            {
                problems["columns"] = [$"at most one column that says the {name}."];
            }
        }

        if (plan.Columns.All(column => column.Role != ImportRole.Value))
        {
            problems["columns"] = ["a column that holds values."];
        }

        for (int i = 0; i < plan.Columns.Count; i++)
        {
            if (plan.Columns[i].Role == ImportRole.Value && Value(plan, plan.Columns[i]) is { } problem)
            {
                problems[string.Create(CultureInfo.InvariantCulture, $"columns[{i}]")] = [problem];
            }
        }

        for (int i = 0; i < plan.Probes.Count; i++)
        {
            if (plan.Probes[i].Key.Length > 0 && !ImportNames.IsProbe(plan.Probes[i].Key))
            {
                problems[string.Create(CultureInfo.InvariantCulture, $"probes[{i}]")] = [ImportNames.ProbeAllowed];
            }
        }

        if (plan.Probes.Count > Limits.Probes || plan.Probes.Select(probe => probe.Name).Distinct(StringComparer.Ordinal).Count() != plan.Probes.Count)
        {
            problems["probes"] = [string.Create(CultureInfo.InvariantCulture, $"each name once, and at most {Limits.Probes} of them.")];
        }

        return problems;
    }

    private static string? Time(ImportPlan plan)
    {
        int times = plan.Columns.Count(column => column.Role == ImportRole.Time);
        int dates = plan.Columns.Count(column => column.Role == ImportRole.Date), clocks = plan.Columns.Count(column => column.Role == ImportRole.Clock);
        return (times, dates, clocks) is (1, 0, 0) || ((times, dates, clocks) is (0, 1, 1) && plan.TimeForm is not (ImportTimeForm.UnixSeconds or ImportTimeForm.UnixMilliseconds))
            ? null
            : "one column with the time, or one with the date and one with the time of day.";
    }

    private static string? Value(ImportPlan plan, ImportColumn column)
    {
        if (column.Probe is null ? plan.IndexOf(ImportRole.Probe) < 0 : !ImportNames.IsProbe(column.Probe))
        {
            return column.Probe is null ? "say which probe it is of." : ImportNames.ProbeAllowed;
        }

        if (column.Quantity is null ? plan.IndexOf(ImportRole.Quantity) < 0 : !Quantity.IsName(column.Quantity))
        {
            return column.Quantity is null ? "say what was measured." : "a name such as temperature, of a-z, 0-9 and hyphen.";
        }

        if (column is { Quantity: { } name, Unit: { Length: > 0 } unit })
        {
            Quantity quantity = new(name);
            return Units.TryConvert(ref quantity, ImportNames.UnitOf(unit), 1, out _) ? null : Rejections.UnknownUnit(quantity);
        }

        return null;
    }
}
