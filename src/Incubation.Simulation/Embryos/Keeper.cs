using Incubation.Core.Candling;
using Incubation.Core.Clutches;
using NodaTime;

namespace Incubation.Simulation.Embryos;

/// <summary>How a keeper looks and errs. Shares: invented.</summary>
public sealed record KeeperSpec
{
    /// <summary>Share of eggs that are left out of a round.</summary>
    public double Skips { get; init; } = 0.03;

    /// <summary>Share of looks at which the glow is taken for another.</summary>
    public double MisreadsGlow { get; init; } = 0.03;

    /// <summary>Share of looks at which the vessels are taken for one grade more or less.</summary>
    public double MisreadsVeins { get; init; } = 0.03;

    /// <summary>Share of weighings with two digits the wrong way round.</summary>
    public double Slips { get; init; } = 0.02;

    /// <summary>Share of such slips that are seen, and corrected by another entry, while the egg still lies on the scale.</summary>
    public double CorrectsSlips { get; init; } = 0.75;

    /// <summary>Standard deviation of the scale with a hand near it, g.</summary>
    public double ScaleError { get; init; } = 0.2;

    /// <summary>Share of looks that wait long enough to see movement, where there is any.</summary>
    public double WaitsForMovement { get; init; } = 0.35;
}

/// <summary>One entry as a keeper makes it.</summary>
/// <param name="Egg">Number of the egg.</param>
/// <param name="At">When.</param>
/// <param name="Glow">The glow as read; null when the egg is too dark for one.</param>
/// <param name="Veins">Vessels as read.</param>
/// <param name="MovementSeen">Whether it moved; null when nobody waited for it.</param>
/// <param name="Shell">Keys of what was on the shell.</param>
/// <param name="LooksLikeSlug">The answer.</param>
/// <param name="MassGrams">Mass as written down, g, or null.</param>
/// <param name="Note">A note, or null.</param>
/// <param name="Corrects">Index of the entry of the same round that this one corrects, or null.</param>
public sealed record Look(
    int Egg, Instant At, Glow? Glow, Veins? Veins, bool? MovementSeen, IReadOnlyList<string> Shell, SlugLook? LooksLikeSlug,
    double? MassGrams, string? Note, int? Corrects);

/// <summary>Something that a keeper found had come of an egg.</summary>
/// <param name="Egg">Number of the egg.</param>
/// <param name="Kind">What.</param>
/// <param name="At">When it was seen, which is later than when it happened.</param>
public sealed record Found(int Egg, OutcomeKind Kind, Instant At);

/// <summary>
/// Whoever looks after one brood: candles, writes down with the odd mistake, and finds what came of it. Same seed and same brood: same
/// entries.
/// </summary>
public sealed class Keeper
{
    private static readonly Duration PerEgg = Duration.FromSeconds(34);
    private readonly KeeperSpec _spec;
    private readonly Brood _brood;
    private readonly Instant _laid;
    private readonly ulong _seed;
    private readonly HashSet<(int Egg, OutcomeKind Kind)> _known = [];
    private ulong _round;

    /// <summary>A keeper of a brood laid at <paramref name="laid"/>.</summary>
    public Keeper(KeeperSpec spec, Brood brood, Instant laid, ulong seed)
    {
        ArgumentNullException.ThrowIfNull(spec);
        ArgumentNullException.ThrowIfNull(brood);
        (_spec, _brood, _laid, _seed) = (spec, brood, laid, seed);
    }

    /// <summary>
    /// Days on which a keeper candles: the lay day, about day 8, about day 24, then every two weeks (common practice, no source), a day
    /// or so off as life has it.
    /// </summary>
    /// <param name="until">Last day.</param>
    /// <param name="seed">Chance.</param>
    public static IReadOnlyList<int> LookDays(int until, ulong seed)
    {
        List<int> days = [0, 8 + Off(1), 24 + Off(2)];
        while (days[^1] < until)
        {
            days.Add(days[^1] + 14 + Off((ulong)days.Count));
        }
        return [.. days.Where(day => day <= until)];

        int Off(ulong index) => (int)(Chance.Uniform(seed, index) * 3) - 1;
    }

    /// <summary>Looks through all eggs that nothing has come of yet, beginning at <paramref name="at"/>; the brood has lived to then.</summary>
    public IReadOnlyList<Look> Candle(Instant at)
    {
        var looks = new List<Look>();
        var round = Chance.Bits(_seed, ++_round);
        for (var i = 0; i < _brood.Eggs.Count; i++)
        {
            var seed = Chance.Bits(round, (ulong)i);
            if (_brood.Eggs[i].State is EmbryoState.Pipped or EmbryoState.Out || Chance.Uniform(seed, 0) < _spec.Skips)
            {
                continue;
            }
            at += PerEgg;
            var (look, slipped) = See(i, at, seed);
            looks.Add(look);
            if (slipped is { } right && Chance.Uniform(seed, 7) < _spec.CorrectsSlips)
            {
                at += PerEgg;
                looks.Add(look with { At = at, MassGrams = right, Note = "mass typed wrong", Corrects = looks.Count - 1 });
            }
        }
        return looks;
    }

    /// <summary>Goes by and writes down pips and young that were not seen before.</summary>
    public IReadOnlyList<Found> GoRound(Instant at)
    {
        var found = new List<Found>();
        for (var i = 0; i < _brood.Eggs.Count; i++)
        {
            var egg = _brood.Eggs[i];
            if (egg.PippedAt <= at)
            {
                Add(i + 1, OutcomeKind.FirstPip);
            }
            if (egg.OutAt <= at)
            {
                Add(i + 1, OutcomeKind.Out);
            }
        }
        return found;

        void Add(int number, OutcomeKind kind)
        {
            if (_known.Add((number, kind)))
            {
                found.Add(new Found(number, kind, at));
            }
        }
    }

    /// <summary>Opens what is left at the end and writes down what it was.</summary>
    public IReadOnlyList<Found> Close(Instant at)
        => [.. _brood.Eggs.Select((egg, i) => egg.State switch
        {
            EmbryoState.Slug => new Found(i + 1, OutcomeKind.Slug, at),
            EmbryoState.Out => null,
            _ => new Found(i + 1, OutcomeKind.DeadInEgg, at),
        }).OfType<Found>().Where(found => _known.Add((found.Egg, found.Kind)))];

    private (Look Look, double? Slipped) See(int index, Instant at, ulong seed)
    {
        var egg = _brood.Eggs[index];
        var sight = EggSight.Of(egg, _laid, at);
        // Where hardly any light comes through there is no tint to note.
        var glow = sight.Glow == Glow.Dark ? (Glow?)null
            : Chance.Uniform(seed, 1) < _spec.MisreadsGlow ? Mistaken(sight.Glow) : sight.Glow;
        var veins = Chance.Uniform(seed, 2) < _spec.MisreadsVeins ? Mistaken(sight.Veins, Chance.Uniform(seed, 3) < 0.5) : sight.Veins;
        var waits = Chance.Uniform(seed, 4) < _spec.WaitsForMovement;
        var grams = Math.Round(egg.Grams + (_spec.ScaleError * Chance.Bell(seed, 5)), 1);
        var written = Chance.Uniform(seed, 6) < _spec.Slips ? Swapped(grams) : grams;
        string[] shell =
        [
            .. sight.Dented ? new[] { "dented" } : [],
            .. sight.Sweating ? new[] { "sweating" } : [],
            .. sight.Mould ? new[] { "mould" } : [],
        ];
        var slug = sight.Slug == SlugLook.Yes && Chance.Uniform(seed, 8) < 0.3 ? SlugLook.Unsure : sight.Slug;
        var note = veins switch
        {
            Veins.Fading => "paler than last time, look again",
            Veins.None when slug == SlugLook.Unsure => "can't tell yet",
            _ => null,
        };
        // A young that moves shows it: nobody writes down "did not move" of one that was not waited for.
        var look = new Look(index + 1, at, glow, veins, waits ? sight.Moves : null, shell, slug, written, note, null);
        return (look, written == grams ? null : grams);
    }

    private static Glow Mistaken(Glow glow) => glow switch
    {
        Glow.Greenish => Glow.Peach,
        Glow.Peach => Glow.Pink,
        Glow.Pink => Glow.Greenish,
        Glow.Yellow => Glow.OffWhite,
        Glow.OffWhite => Glow.Yellow,
        _ => Glow.Dark,
    };

    // Only among neighbours: nobody takes a full net for none, and a ring that isn't there is not seen.
    private static Veins Mistaken(Veins veins, bool more) => (veins, more) switch
    {
        (Veins.None, true) => Veins.Spot,
        (Veins.Spot, false) => Veins.None,
        (Veins.Spot, true) => Veins.Spreading,
        (Veins.Spreading, false) => Veins.Spot,
        (Veins.Spreading, true) => Veins.FullNet,
        (Veins.FullNet, false) => Veins.Spreading,
        _ => veins,
    };

    // 87.4 becomes 78.4.
    private static double Swapped(double grams)
    {
        var tens = Math.Floor(grams / 10) % 10;
        var ones = Math.Floor(grams) % 10;
        return Math.Round(grams + (9 * (ones - tens)), 1) is > 0 and var swapped ? swapped : grams;
    }
}
