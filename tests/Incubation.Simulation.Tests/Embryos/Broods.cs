using Incubation.Simulation.Embryos;
using NodaTime;

namespace Incubation.Simulation.Tests.Embryos;

/// <summary>Broods that live at one temperature, of which a test cares for one thing.</summary>
internal static class Broods
{
    public static readonly Duration Step = Duration.FromMinutes(30);

    /// <summary>A python of which nothing dies but by what a test does.</summary>
    public static EmbryoNature Sturdy { get; } = EmbryoNatures.BallPython with
    {
        SlugShare = 0,
        Hazards = new() { UnexplainedShare = 0, DryingTolerance = 10, WettingTolerance = 10, ColdTolerance = 1e9, HeatTolerance = 1e9, EarlyHeatFactor = 1 },
    };

    public static Brood Of(EmbryoNature nature, int eggs, ulong seed = 1, params TraitCross[] traits)
        => new(new BroodSpec { Seed = seed, Name = "some", Nature = nature, Eggs = eggs, Traits = traits });

    /// <summary>Lives on for so many days; the humidity is the one of balance unless said.</summary>
    public static Instant Live(this Brood brood, double celsius, double days, double humidity = 94, Instant? from = null)
    {
        var at = from ?? Some.Start;
        var end = at + Duration.FromDays(days);
        for (; at < end; at += Step)
        {
            brood.Live(new EggClimate(celsius, humidity), at, Step);
        }
        return at;
    }

    /// <summary>Mean days from the start to pip, NaN when none has.</summary>
    public static double MeanPipDays(this Brood brood)
        => brood.Eggs.Where(egg => egg.PippedAt is not null).Select(egg => (egg.PippedAt!.Value - Some.Start).TotalDays).DefaultIfEmpty(double.NaN).Average();
}
