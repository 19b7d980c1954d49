using System.Globalization;
using System.Text;
using Incubation.Core;
using Incubation.Core.Clutches;
using Incubation.Service.Facility;
using Incubation.Service.Http;
using Incubation.Service.Probes;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using NodaTime.Text;

namespace Incubation.Service.Clutches;

/// <summary>Reads what a person entered, field by field, and gathers everything there is to say about it before answering once.</summary>
internal sealed class EntryForm
{
    // Nobody's records here are older; an earlier year is a slip of the finger.
    private static readonly LocalDate FirstDate = new(1990, 1, 1);

    private readonly Dictionary<string, List<string>> _refused = new(StringComparer.Ordinal);
    private readonly List<string> _said = [];

    /// <summary>Whether the entry can't be taken.</summary>
    public bool Refused => _refused.Count > 0;

    /// <summary>What is said beside an entry that is taken.</summary>
    public IReadOnlyList<string> Said => _said;

    /// <summary>The problem document with every refused field.</summary>
    public ProblemHttpResult Problem() => Problems.Invalid(_refused.ToDictionary(f => f.Key, f => f.Value.ToArray()));

    public void Refuse(string field, string words)
    {
        if (!_refused.TryGetValue(field, out List<string>? list))
        {
            _refused[field] = list = [];
        }

        list.Add(words);
    }

    public void Say(string words) => _said.Add(words);

    /// <summary>Takes over what Core says.</summary>
    /// <param name="remarks">What it says.</param>
    /// <param name="within">Name of the part of the form they are about, such as "tub"; null for the form itself.</param>
    public void Take(IEnumerable<Remark> remarks, string? within = null)
    {
        foreach (Remark remark in remarks)
        {
            if (remark.Refuses)
            {
                Refuse(within is null ? remark.Field : $"{within}.{remark.Field}", remark.Words);
            }
            else
            {
                Say(remark.Words);
            }
        }
    }

    /// <summary>A name on one line; null and refused when it is missing or no name.</summary>
    public string? Name(string field, string? raw)
    {
        if (PlainName.TryRead(raw, out string? name))
        {
            return name;
        }

        Refuse(field, PlainName.Allowed);
        return null;
    }

    /// <summary>A name that may be left out or empty.</summary>
    public string? NameOrNone(string field, string? raw) => string.IsNullOrWhiteSpace(raw) ? null : Name(field, raw);

    /// <summary>Free text as it came, markup and all; null when there is none.</summary>
    public string? Note(string field, string? raw)
    {
        if (string.IsNullOrWhiteSpace(raw))
        {
            return null;
        }

        if (raw.Length > Limits.NoteLength)
        {
            Refuse(field, string.Create(CultureInfo.InvariantCulture,
                $"A note has at most {Limits.NoteLength} characters; this one has {raw.Length}."));
        }
        else if (raw.EnumerateRunes().Any(r => r == Rune.ReplacementChar || (Rune.IsControl(r) && r.Value is not ('\n' or '\r' or '\t'))))
        {
            Refuse(field, "Text without control characters; line breaks are fine.");
        }

        return raw;
    }

    /// <summary>A moment as it stands in a request; null when left out. Milliseconds are kept, as the records do.</summary>
    public Instant? Time(string field, string? raw)
    {
        if (raw is null)
        {
            return null;
        }

        if (ProbeChanges.TryReadTime(raw, out Instant time))
        {
            return Instant.FromUnixTimeMilliseconds(time.ToUnixTimeMilliseconds());
        }

        Refuse(field, "A time such as 2026-11-25T03:04:05Z.");
        return null;
    }

    /// <summary>A moment that must be there.</summary>
    public Instant TimeOf(string field, string? raw)
    {
        if (raw is null)
        {
            Refuse(field, "A time such as 2026-11-25T03:04:05Z; it must not be left out.");
        }

        return Time(field, raw) ?? default;
    }

    /// <summary>A local date that must be there.</summary>
    public LocalDate Date(string field, string? raw)
    {
        if (raw is not null && LocalDatePattern.Iso.Parse(raw) is { Success: true } parsed)
        {
            if (parsed.Value >= FirstDate)
            {
                return parsed.Value;
            }

            Refuse(field, "A date after 1990: check the year.");
            return FirstDate;
        }

        Refuse(field, "A date such as 2026-11-25.");
        return FirstDate;
    }
}
