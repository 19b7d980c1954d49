using Incubation.Core.Care;
using Incubation.Core.Clutches;
using Incubation.Core.Genetics;
using Incubation.Simulation.Embryos;
using Incubation.Storage.Records;
using NodaTime;

namespace Incubation.Service.Demo;

/// <summary>Raises one clutch: its embryos live by the climate they had, and its keepers write down what they see of it.</summary>
internal sealed class DemoBreeding
{
    private static readonly Duration OpensAfter = Duration.FromDays(4);
    private readonly DemoClutch _plan;
    private readonly DemoTrack _track;
    private readonly DemoCalendar _calendar;
    private readonly DemoIds _ids;
    private readonly DemoBook _book;
    private readonly Brood _brood;
    private readonly Keeper _keeper;
    private readonly Instant _laid, _entered;
    private readonly Guid _clutch;
    private readonly EggRecord[] _eggs;
    private Instant _at;
    private Instant? _overSince;

    private DemoBreeding(DemoClutch plan, DemoTrack track, DemoCalendar calendar, long seed, DemoIds ids, DemoBook book)
    {
        (_plan, _track, _calendar, _ids, _book) = (plan, track, calendar, ids, book);
        _laid = _at = calendar.At(plan.DaysAgo, 5);
        // The eggs are found in the morning and entered soon, unless the clutch came late.
        _entered = plan.EnteredOnDay > 0 ? calendar.At(plan.DaysAgo - plan.EnteredOnDay, 17.5) : calendar.At(plan.DaysAgo, 9.2);
        var sire = plan.TrueSire ?? plan.Sire ?? "";
        _brood = new Brood(new BroodSpec
        {
            Seed = (ulong)seed,
            Name = plan.Label,
            Nature = plan.Nature,
            Eggs = plan.Eggs,
            Traits = plan.Species == "python-regius"
                ? [.. DemoTraits.All.Select(trait => new TraitCross(DemoTraits.Copies(plan.Dam, trait.Key), DemoTraits.Copies(sire, trait.Key)))]
                : [],
        });
        _keeper = new Keeper(new KeeperSpec(), _brood, _laid, (ulong)seed + (ulong)plan.DaysAgo);
        _clutch = ids.Next();
        _eggs = [.. Lie(seed)];
    }

    /// <summary>Raises a clutch up to <paramref name="end"/> and writes all of it into the book.</summary>
    public static void Raise(DemoClutch plan, DemoTrack track, Instant end, DemoCalendar calendar, long seed, DemoIds ids, DemoBook book)
        => new DemoBreeding(plan, track, calendar, seed, ids, book).Raise(end, (ulong)seed);

    private void Raise(Instant end, ulong seed)
    {
        var finished = (Instant?)null;
        foreach (var (at, candles) in Visits(seed).Where(visit => visit.At >= _entered && visit.At < end).OrderBy(visit => visit.At))
        {
            LiveTo(at);
            Write(_keeper.GoRound(at));
            if (candles && !_brood.IsOver)
            {
                Candle(at);
            }
            _overSince ??= _brood.IsOver ? at : null;
            if (at - _overSince >= OpensAfter)
            {
                Write(_keeper.Close(at));
                finished = at;
                break;
            }
        }
        Enter(finished);
    }

    private IEnumerable<(Instant At, bool Candles)> Visits(ulong seed)
    {
        var tub = int.Parse(_plan.Tub["tub-".Length..], System.Globalization.CultureInfo.InvariantCulture);
        for (var day = 0; day <= 90; day++)
        {
            var date = _calendar.Day(_plan.DaysAgo).PlusDays(day);
            yield return (_calendar.At(date, 7.5), false);
            yield return (_calendar.At(date, 18.5), false);
        }
        // One tub after the other, in the evening; a clutch that came late is looked at when it came, and then as all others.
        var looks = Keeper.LookDays(56, seed + (ulong)_plan.DaysAgo);
        foreach (var day in _plan.EnteredOnDay > 0 ? [_plan.EnteredOnDay, .. looks.Where(day => day > _plan.EnteredOnDay + 4)] : looks)
        {
            yield return (_calendar.At(_calendar.Day(_plan.DaysAgo).PlusDays(day), 19.4 + (0.13 * tub)), true);
        }
    }

    private void LiveTo(Instant to)
    {
        var moved = _plan.MovedFrom is null ? _laid : DemoTubs.MovedAt(_calendar);
        if (_plan.MovedFrom is { } before)
        {
            Live(before, _at, Instant.Min(to, moved));
        }
        Live(_plan.Cabinet, Instant.Max(_at, moved), to);
        _at = to;
    }

    private void Live(string cabinet, Instant from, Instant to)
    {
        foreach (var (at, time, climate) in _track.Over(cabinet, from, to))
        {
            _brood.Live(climate with { Humidity = 100 - ((100 - climate.Humidity) * _plan.Vented) }, at, time);
        }
    }

    private void Candle(Instant at)
    {
        var by = (at.ToUnixTimeSeconds() / 86_400 % 3) == 0 ? DemoFacility.SecondKeeper : DemoFacility.Keeper;
        _book.Care.Add(new DemoChore(at, CareTarget.Tub, _plan.Tub, CareKind.Lid, null, "Candled.", by).Line(_ids.Next()));
        var round = new List<Guid>();
        foreach (var look in _keeper.Candle(at))
        {
            round.Add(_ids.Next());
            var term = look.Glow is { } glow ? DemoTraits.Term(glow) : null;
            _book.Candlings.Add(new CandlingRecord
            {
                Id = round[^1],
                Egg = _eggs[look.Egg - 1].Id,
                Tint = term?.Key,
                TintWord = term?.Word,
                Veins = look.Veins is { } veins ? Core.Candling.CandlingWords.Word(veins) : null,
                MovementSeen = look.MovementSeen,
                Shell = look.Shell.Count == 0 ? null : string.Join(',', look.Shell),
                LooksLikeSlug = look.LooksLikeSlug is { } slug ? Core.Candling.CandlingWords.Word(slug) : null,
                MassGrams = look.MassGrams,
                Note = look.Note,
                Supersedes = look.Corrects is { } index ? round[index] : null,
                At = look.At,
                By = by,
                EnteredAt = look.At + Duration.FromSeconds(9),
            });
        }
    }

    private void Write(IReadOnlyList<Found> found)
    {
        foreach (var one in found)
        {
            var shows = one.Kind == OutcomeKind.Out ? Seen(_brood.Eggs[one.Egg - 1]) : null;
            _book.Outcomes.Add(new OutcomeRecord
            {
                Id = _ids.Next(),
                Egg = _eggs[one.Egg - 1].Id,
                Kind = one.Kind switch
                {
                    OutcomeKind.FirstPip => "first pip",
                    OutcomeKind.Out => "out",
                    OutcomeKind.DeadInEgg => "dead in egg",
                    _ => "slug",
                },
                At = one.At,
                Trait = shows?.Trait,
                TraitSeen = shows?.Word,
                By = DemoFacility.Keeper,
                EnteredAt = one.At + Duration.FromSeconds(20),
            });
        }
    }

    /// <summary>What the eye sees of the first trait that is followed in this pairing: a carrier of a recessive one shows nothing.</summary>
    private (string Trait, string Word)? Seen(Embryo egg)
    {
        if (Followed().FirstOrDefault() is not { } trait)
        {
            return null;
        }
        var copies = egg.Copies[DemoTraits.All.ToList().IndexOf(trait)];
        return (trait.Key, copies == 2 ? "two copies" : copies == 1 && trait.Inheritance != Inheritance.Recessive ? "one copy" : "none");
    }

    private IEnumerable<Trait> Followed() => _plan.Species != "python-regius" ? []
        : DemoTraits.All.Where(trait => DemoTraits.Copies(_plan.Dam, trait.Key) + DemoTraits.Copies(_plan.Sire ?? _plan.TrueSire ?? "", trait.Key) > 0);

    private void Enter(Instant? finished)
    {
        _book.Clutches.Add(new ClutchRecord
        {
            Id = _clutch,
            Key = _plan.Key,
            Label = _plan.Label,
            Species = _plan.Species,
            Dam = _plan.Dam,
            Sire = _plan.Sire,
            LayDate = _calendar.Day(_plan.DaysAgo),
            LayDateSlackDays = _plan.SlackDays,
            FoundAt = _plan.EnteredOnDay > 0 ? _entered - Duration.FromHours(2) : _calendar.At(_plan.DaysAgo, 7.6),
            FemaleCelsius = _plan.FemaleCelsius,
            AssumedCelsius = _plan.AssumedCelsius,
            SecondPerson = _plan.SecondPerson,
            Note = _plan.Note,
            By = DemoFacility.Keeper,
            EnteredAt = _entered,
            FinishedAt = finished,
        });
        _book.Eggs.AddRange(_eggs);
        _book.ClutchPlacements.Add(new ClutchPlacementRecord
        {
            Id = _ids.Next(),
            Clutch = _clutch,
            Tub = _plan.Tub,
            From = _entered,
            Until = finished,
            By = DemoFacility.Keeper,
            EnteredAt = _entered,
        });
        _book.Pairings.AddRange(Followed().Select(trait => new PairingRecord
        {
            Id = _ids.Next(),
            Clutch = _clutch,
            Trait = trait.Key,
            DamCopies = DemoTraits.Copies(_plan.Dam, trait.Key),
            SireCopies = _plan.Sire is null ? null : DemoTraits.Copies(_plan.Sire, trait.Key),
            By = DemoFacility.Keeper,
            EnteredAt = _entered,
        }));
    }

    // A heap as clutches lie, each egg a little off, most of them stuck together.
    private IEnumerable<EggRecord> Lie(long seed)
    {
        var chance = new Random(unchecked((int)seed + _plan.DaysAgo));
        foreach (var place in EggPlan.Heap(_plan.Eggs))
        {
            yield return new EggRecord
            {
                Id = _ids.Next(),
                Clutch = _clutch,
                Number = place.Number,
                X = Math.Round(Math.Clamp(place.X + ((chance.NextDouble() - 0.5) * 0.04), 0, 1), 3),
                Y = Math.Round(Math.Clamp(place.Y + ((chance.NextDouble() - 0.5) * 0.04), 0, 1), 3),
                Clump = place.Number <= _plan.Eggs * 0.75 ? 1 : null,
                By = DemoFacility.Keeper,
                EnteredAt = _entered,
            };
        }
    }
}
