namespace Incubation.Simulation.Rooms;

/// <summary>The room's air: a day cycle, slow weather, and its own heating, which a power cut stops.</summary>
internal sealed class Room
{
    private const double DayMs = 86_400_000;

    // Two periods that don't divide one another, so that no two weeks are alike.
    private const double LongWeatherDays = 6.7, ShortWeatherDays = 2.9;
    private readonly RoomSpec _spec;
    private readonly double _phaseLong, _phaseShort, _keep;
    private double _fallen;

    public Room(RoomSpec spec, ulong seed, double stepSeconds)
    {
        _spec = spec;
        _phaseLong = Chance.Uniform(seed, 0) * 2 * Math.PI;
        _phaseShort = Chance.Uniform(seed, 1) * 2 * Math.PI;
        _keep = Math.Exp(-stepSeconds / (spec.FallHours * 3600));
    }

    public double VapourPressure => _spec.VapourPressure;

    public bool Powered { get; set; } = true;

    public double Temperature { get; private set; }

    /// <summary>Goes on by one inner step that starts at <paramref name="atMs"/>.</summary>
    public void Step(long atMs)
    {
        var target = Powered ? 0 : _spec.HeatingLift;
        _fallen = target + ((_fallen - target) * _keep);
        var days = atMs / DayMs;
        Temperature = _spec.Mean
            + (_spec.DaySwing * Math.Cos(2 * Math.PI * (days - (_spec.WarmestHour / 24))))
            + (_spec.Weather * 0.6 * Math.Sin((2 * Math.PI * days / LongWeatherDays) + _phaseLong))
            + (_spec.Weather * 0.4 * Math.Sin((2 * Math.PI * days / ShortWeatherDays) + _phaseShort))
            - _fallen;
    }
}
