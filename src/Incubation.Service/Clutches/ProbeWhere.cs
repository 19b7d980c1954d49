using Incubation.Core.Clutches;
using NodaTime;

namespace Incubation.Service.Clutches;

/// <summary>
/// Which tub a probe lies in: the one on record where the keeper has said so, else read from the keeper's own words ("Tub 2, between eggs").
/// A tub that is named wins; words that speak of eggs or
/// a tub without naming one mean the only tub in that incubator at the time; anything else hangs in the air.
/// </summary>
internal static class ProbeWhere
{
    private static readonly string[] AmongEggs = ["egg", "tub", "substrate", "clutch", "box"];

    /// <summary>A probe's stay, cut wherever a tub that it may lie in came or went.</summary>
    /// <param name="stay">The stay; one with a tub on record is not cut.</param>
    /// <param name="tubs">Stays of tubs in any incubator, each ended by the tub's next.</param>
    /// <param name="names">What is written on each tub.</param>
    public static IEnumerable<ProbeStay> InTubs(
        ProbeStay stay, IReadOnlyCollection<IncubatorStay> tubs, IReadOnlyDictionary<string, string> names)
    {
        if (stay.Tub is not null)
        {
            yield return stay;
            yield break;
        }

        IncubatorStay[] here =
        [
            .. tubs.Where(tub => tub.Incubator == stay.Incubator && Until(tub.Until) > stay.From && tub.From < Until(stay.Until)),
        ];
        Instant[] cuts =
        [
            .. here.SelectMany(tub => new[] { tub.From, Until(tub.Until) }).Append(stay.From).Append(Until(stay.Until))
                .Where(cut => cut >= stay.From && cut <= Until(stay.Until)).Distinct().Order(),
        ];
        for (int i = 0; i + 1 < cuts.Length; i++)
        {
            Instant from = cuts[i];
            var present = here.Where(tub => tub.From <= from && from < Until(tub.Until))
                .Select(tub => (tub.Tub, Name: names.GetValueOrDefault(tub.Tub, tub.Tub))).Distinct().ToList();
            yield return stay with { Tub = Tub(stay.Where, present), From = from, Until = cuts[i + 1] == Instant.MaxValue ? null : cuts[i + 1] };
        }
    }

    /// <summary>The tub that the words mean, or null for the air of the incubator.</summary>
    public static string? Tub(string where, IReadOnlyCollection<(string Key, string Name)> tubs)
    {
        string? named = tubs.Where(tub => HasWords(where, tub.Name)).OrderByDescending(tub => tub.Name.Length).Select(tub => tub.Key).FirstOrDefault();
        if (named is not null || tubs.Count != 1 || !AmongEggs.Any(word => where.Contains(word, StringComparison.OrdinalIgnoreCase)))
        {
            return named;
        }

        // "tub 2" beside a tub named "Tub 1" is another tub, which nobody has entered.
        (string key, string name) = tubs.First();
        return where.Where(char.IsAsciiDigit).All(digit => name.Contains(digit, StringComparison.Ordinal)) ? key : null;
    }

    // "Tub 1" is not in "tub 12".
    private static bool HasWords(string where, string name)
    {
        for (int at = 0; (at = where.IndexOf(name, at, StringComparison.OrdinalIgnoreCase)) >= 0; at++)
        {
            int end = at + name.Length;
            if ((at == 0 || !char.IsLetterOrDigit(where[at - 1])) && (end == where.Length || !char.IsLetterOrDigit(where[end])))
            {
                return true;
            }
        }

        return false;
    }

    private static Instant Until(Instant? until) => until ?? Instant.MaxValue;
}
