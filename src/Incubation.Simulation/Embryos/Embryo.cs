using NodaTime;

namespace Incubation.Simulation.Embryos;

/// <summary>How it is with an egg.</summary>
public enum EmbryoState
{
    /// <summary>Never fertile.</summary>
    Slug,

    /// <summary>Alive in the egg.</summary>
    Developing,

    /// <summary>The shell is slit; the young is still inside.</summary>
    Pipped,

    /// <summary>The young has left the egg.</summary>
    Out,

    /// <summary>Dead in the egg.</summary>
    Dead,
}

/// <summary>What an embryo died of.</summary>
public enum DeathCause
{
    /// <summary>More heat than it could bear.</summary>
    Heat,

    /// <summary>More cold.</summary>
    Cold,

    /// <summary>It lost too much water.</summary>
    Drying,

    /// <summary>It took up too much.</summary>
    TooWet,

    /// <summary>Nobody will find out.</summary>
    Unexplained,
}

/// <summary>What is around an egg.</summary>
/// <param name="Celsius">Temperature of the egg, °C.</param>
/// <param name="Humidity">At the shell, %RH.</param>
public readonly record struct EggClimate(double Celsius, double Humidity);

/// <summary>One egg in motion. Same nature, seed and climate: same life. Not safe for several threads at once.</summary>
public sealed class Embryo
{
    private readonly EmbryoNature _nature;
    private readonly double _pace, _heatBorne, _coldBorne, _dryingBorne, _wettingBorne, _failsAt, _emergence;
    private double _heat, _cold;
    private Instant _leavesAt;

    /// <summary>A fresh egg.</summary>
    /// <param name="nature">Its species.</param>
    /// <param name="copies">Copies of each trait that is followed.</param>
    /// <param name="pace">Pace of its clutch; 1 is the species' own.</param>
    /// <param name="seed">Where all its chance comes from.</param>
    public Embryo(EmbryoNature nature, IReadOnlyList<int> copies, double pace, ulong seed)
    {
        ArgumentNullException.ThrowIfNull(nature);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(pace);
        _nature = nature;
        Seed = seed;
        Copies = copies;
        var hazards = nature.Hazards;
        State = Chance.Uniform(seed, 1) < nature.SlugShare ? EmbryoState.Slug : EmbryoState.Developing;
        _pace = pace / (1 + (nature.PaceSpread * Chance.Bell(seed, 2)));
        FreshGrams = Math.Max(1, nature.EggGrams + (nature.EggGramsSpread * Chance.Bell(seed, 3))) * (State == EmbryoState.Slug ? 0.8 : 1);
        _heatBorne = hazards.HeatTolerance * Borne(4);
        _coldBorne = hazards.ColdTolerance * Borne(5);
        _dryingBorne = hazards.DryingTolerance * Borne(6);
        _wettingBorne = hazards.WettingTolerance * Borne(7);
        _emergence = nature.EmergenceHours * Math.Exp(nature.EmergenceSpread * Chance.Bell(seed, 8));
        _failsAt = Chance.Uniform(seed, 9) >= hazards.UnexplainedShare ? double.PositiveInfinity
            : Chance.Uniform(seed, 10) < 0.5 ? 0.93 + (0.07 * Chance.Uniform(seed, 11))
            : Chance.Uniform(seed, 11);

        double Borne(ulong index) => Math.Exp(hazards.ToleranceSpread * Chance.Bell(seed, index));
    }

    /// <summary>How it is.</summary>
    public EmbryoState State { get; private set; }

    /// <summary>Share of the way from laying to pip, 0 to 1; stands still when it has died.</summary>
    public double Stage { get; private set; }

    /// <summary>Copies of each trait.</summary>
    public IReadOnlyList<int> Copies { get; }

    /// <summary>Mass when laid, g.</summary>
    public double FreshGrams { get; }

    /// <summary>Mass gained (or lost, below 0) since, as a share of the fresh mass.</summary>
    public double WaterGained { get; private set; }

    /// <summary>Mass now, g.</summary>
    public double Grams => FreshGrams * (1 + WaterGained);

    /// <summary>When it pipped.</summary>
    public Instant? PippedAt { get; private set; }

    /// <summary>When it left the egg.</summary>
    public Instant? OutAt { get; private set; }

    /// <summary>When it died.</summary>
    public Instant? DiedAt { get; private set; }

    /// <summary>What it died of.</summary>
    public DeathCause? Cause { get; private set; }

    /// <summary>Its own chance, for whoever looks at it.</summary>
    internal ulong Seed { get; }

    internal EmbryoNature Nature => _nature;

    /// <summary>Lives on for a while in one climate.</summary>
    public void Live(EggClimate climate, Instant from, Duration time)
    {
        if (State == EmbryoState.Out || time <= Duration.Zero)
        {
            return;
        }
        Drink(climate.Humidity, time.TotalDays);
        if (State is EmbryoState.Slug or EmbryoState.Dead)
        {
            return;
        }
        if (Suffers(climate, time.TotalHours) is { } cause)
        {
            Die(cause, from + time);
        }
        else if (State == EmbryoState.Developing)
        {
            Develop(climate.Celsius, from, time);
        }
        if (State == EmbryoState.Pipped && _leavesAt <= from + time)
        {
            State = EmbryoState.Out;
            OutAt = _leavesAt;
        }
    }

    private void Develop(double celsius, Instant from, Duration time)
    {
        var before = Stage;
        var gain = _nature.Curve.PerDay(celsius) * _pace * time.TotalDays;
        Stage = Math.Min(1, before + gain);
        if (Stage >= _failsAt)
        {
            Stage = _failsAt;
            Die(DeathCause.Unexplained, from + (time * ((_failsAt - before) / gain)));
        }
        else if (Stage >= 1)
        {
            State = EmbryoState.Pipped;
            PippedAt = from + (time * ((1 - before) / gain));
            _leavesAt = PippedAt.Value + Duration.FromHours(_emergence);
        }
    }

    private void Drink(double humidity, double days)
    {
        if (State is EmbryoState.Pipped)
        {
            return;
        }
        var water = _nature.Water;
        WaterGained += (humidity - water.BalanceHumidity) * water.SharePerDay * days * (State == EmbryoState.Developing ? 1 : 1.6);
        if (State == EmbryoState.Developing && Stage >= water.LateFrom)
        {
            WaterGained -= water.LateLossPerDay * days;
        }
        WaterGained = Math.Max(-0.7, WaterGained);
    }

    private DeathCause? Suffers(EggClimate climate, double hours)
    {
        var hazards = _nature.Hazards;
        var early = Math.Max(0, 1 - (Stage / hazards.EarlyUntil));
        _heat += Math.Max(0, climate.Celsius - hazards.HeatFrom) * hours * (1 + ((hazards.EarlyHeatFactor - 1) * early));
        _cold += Math.Max(0, hazards.ColdBelow - climate.Celsius) * hours;
        return climate.Celsius >= hazards.LethalAt || _heat > _heatBorne ? DeathCause.Heat
            : _cold > _coldBorne ? DeathCause.Cold
            : -WaterGained > _dryingBorne ? DeathCause.Drying
            : WaterGained > _wettingBorne ? DeathCause.TooWet
            : null;
    }

    private void Die(DeathCause cause, Instant at)
    {
        State = EmbryoState.Dead;
        Cause = cause;
        DiedAt = at;
    }
}
