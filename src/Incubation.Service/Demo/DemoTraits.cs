using Incubation.Core.Genetics;
using Incubation.Core.Tint;
using Incubation.Simulation.Embryos;
using Incubation.Storage.Records;

namespace Incubation.Service.Demo;

/// <summary>The demo's traits, its animals and its words for tints: all invented, and no name that a keeper uses.</summary>
internal static class DemoTraits
{
    /// <summary>Incomplete dominant; eggs that carry it glow greenish, mostly.</summary>
    public const string Brindlewick = "brindlewick";

    /// <summary>Recessive; no tint tells of it.</summary>
    public const string Sedgewren = "sedgewren";

    private const string MossGlass = "moss-glass", Quince = "quince", Rosehip = "rosehip";

    public static IReadOnlyList<Trait> All { get; } =
        [new(Brindlewick, "Brindlewick", Inheritance.IncompleteDominant), new(Sedgewren, "Sedgewren", Inheritance.Recessive)];

    // Yellow, off-white and dark are left as everyone says them.
    private static readonly TintTerm[] Tints =
    [
        new(Quince, "quince", "Peach to orange. Usual in the first weeks.", "#f0a878"),
        new(Rosehip, "rosehip", "Pink to red with vessels. Usual later on.", "#e07f8c"),
        new(MossGlass, "moss-glass", "A green cast, as through a mossy bottle. Said to go with Brindlewick.", "#a3b86c"),
        .. TintTerms.Defaults.Where(term => term.Key is "yellow" or "off-white" or "dark"),
    ];

    /// <summary>Copies that each animal has: of Brindlewick, of Sedgewren.</summary>
    private static readonly Dictionary<string, (int Brindlewick, int Sedgewren)> Animals = new(StringComparer.Ordinal)
    {
        ["Ottilie"] = (1, 0),
        ["Bramwen"] = (1, 1),
        ["Saffi"] = (2, 0),
        ["Quill"] = (1, 0),
        ["Nettle"] = (0, 1),
        ["Plum"] = (0, 0),
        ["Wilma"] = (0, 0),
        ["Corvo"] = (1, 0),
        ["Mungo"] = (0, 0),
        ["Alder"] = (0, 1),
        ["Pike"] = (1, 1),
    };

    /// <summary>What an animal has of a trait; an animal that is in no line has nothing.</summary>
    public static int Copies(string animal, string trait)
        => !Animals.TryGetValue(animal, out var copies) ? 0 : trait == Brindlewick ? copies.Brindlewick : copies.Sedgewren;

    /// <summary>The keeper's term for a glow.</summary>
    public static TintTerm Term(Glow glow)
    {
        var key = glow switch
        {
            Glow.Peach => Quince,
            Glow.Pink => Rosehip,
            Glow.Greenish => MossGlass,
            Glow.Yellow => "yellow",
            Glow.OffWhite => "off-white",
            _ => "dark",
        };
        return Tints.First(term => term.Key == key);
    }

    public static void Write(DemoBook book, DemoCalendar calendar)
    {
        var since = calendar.At(DemoPast.FacilityDays, 12);
        book.TintTerms.AddRange(Tints.Select((term, i) =>
            new TintTermRecord { Key = term.Key, Word = term.Word, Meaning = term.Meaning, Colour = term.Colour, Position = i }));
        book.Traits.AddRange(All.Select(trait => new TraitRecord
        {
            Key = trait.Key,
            Name = trait.Name,
            Inheritance = trait.Inheritance == Inheritance.Recessive ? "recessive" : "incomplete dominant",
            CarrierTints = trait.Key == Brindlewick ? MossGlass : "",
            By = DemoFacility.Keeper,
            EnteredAt = since,
        }));
    }
}
