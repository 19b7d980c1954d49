using Incubation.Core.Candling;
using NodaTime;

namespace Incubation.Simulation.Embryos;

/// <summary>What an egg truly shows under the lamp at a moment, before anybody mistakes it. Stages and days: common practice or invented, no source.</summary>
/// <param name="Glow">How it glows.</param>
/// <param name="Veins">Its vessels.</param>
/// <param name="Moves">Whether the embryo can be seen to move if one waits.</param>
/// <param name="Dented">Dimples in the shell.</param>
/// <param name="Sweating">Drops on the shell.</param>
/// <param name="Mould">Mould on the shell.</param>
/// <param name="Slug">Whether it looks like a slug.</param>
public readonly record struct EggSight(Glow Glow, Veins Veins, bool Moves, bool Dented, bool Sweating, bool Mould, SlugLook Slug)
{
    private const double EarlyDentAtLoss = 0.13;
    private static readonly Duration FadesFor = Duration.FromDays(4), MouldsAfter = Duration.FromDays(11);

    /// <summary>What <paramref name="egg"/> shows at <paramref name="at"/>, to which it has lived; <paramref name="laid"/> is when it was laid.</summary>
    public static EggSight Of(Embryo egg, Instant laid, Instant at)
    {
        ArgumentNullException.ThrowIfNull(egg);
        if (egg.State == EmbryoState.Slug)
        {
            var waxy = Chance.Uniform(egg.Seed, 20) < 0.6;
            var moulds = at - laid > MouldsAfter + Duration.FromDays(20 * Chance.Uniform(egg.Seed, 21));
            return new(waxy ? Glow.Yellow : Glow.OffWhite, Veins.None, false, egg.WaterGained < -EarlyDentAtLoss, false, moulds, SlugLook.Yes);
        }
        var dead = egg.DiedAt is { } died ? at - died : (Duration?)null;
        var dentsFrom = 0.88 + (0.09 * Chance.Uniform(egg.Seed, 22));
        return new EggSight(
            GlowOf(egg, dead),
            dead is { } since ? VeinsAfterDeath(egg, since) : VeinsAt(egg.Stage + (0.012 * Chance.Bell(egg.Seed, 23))),
            dead is null && egg.Stage > 0.3,
            egg.WaterGained < -EarlyDentAtLoss || egg.Stage > dentsFrom,
            dead is null && egg.Stage > 0.975,
            dead > MouldsAfter + Duration.FromDays(6 * Chance.Uniform(egg.Seed, 24)),
            egg.Stage < 0.03 && dead is not null ? SlugLook.Unsure : SlugLook.No);
    }

    private static Veins VeinsAt(double stage) => stage switch
    {
        // Python eggs are far on when they are laid: vessels are often seen on the lay day.
        < -0.008 => Veins.None,
        < 0.05 => Veins.Spot,
        < 0.17 => Veins.Spreading,
        _ => Veins.FullNet,
    };

    private static Veins VeinsAfterDeath(Embryo egg, Duration since)
        => since < FadesFor ? Veins.Fading
            // One that died before it had a net leaves no ring that anybody would see.
            : egg.Stage < 0.05 ? Veins.None : Veins.Ring;

    private static Glow GlowOf(Embryo egg, Duration? dead)
    {
        var nature = egg.Nature.Glow;
        if (egg.Stage >= nature.DarkFrom)
        {
            return Glow.Dark;
        }
        if (dead > FadesFor)
        {
            return Glow.OffWhite;
        }
        var shows = egg.Stage >= nature.ShowsFrom * (1 + (0.25 * Chance.Bell(egg.Seed, 25)));
        return shows && GlowsGreen(egg) ? Glow.Greenish
            : egg.Stage >= nature.PinkFrom * (1 + (0.4 * Chance.Bell(egg.Seed, 26))) ? Glow.Pink
            : Glow.Peach;
    }

    private static bool GlowsGreen(Embryo egg)
    {
        var carries = egg.Copies.Count > 0 && egg.Copies[0] > 0;
        var odd = Chance.Uniform(egg.Seed, 27) < (carries ? egg.Nature.Glow.CarriersThatDoNot : egg.Nature.Glow.OthersThatDo);
        // Without a trait that is followed nothing glows greenish.
        return egg.Copies.Count > 0 && carries != odd;
    }
}
