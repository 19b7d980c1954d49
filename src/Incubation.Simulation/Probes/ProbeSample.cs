namespace Incubation.Simulation.Probes;

/// <summary>What a sample is of.</summary>
public enum Measured
{
    /// <summary>Temperature, °C.</summary>
    Temperature,

    /// <summary>Relative humidity, %RH.</summary>
    Humidity,
}

/// <summary>What is wrong with a probe for a while.</summary>
public enum ProbeFault
{
    /// <summary>Nothing.</summary>
    None,

    /// <summary>It says nothing.</summary>
    Silent,

    /// <summary>It says −127 °C, which common drivers of bus sensors give for "no answer". Common practice, no source.</summary>
    Minus127,

    /// <summary>It says 85.0 °C, the power-on value of a common digital bus sensor. Common practice, no source.</summary>
    EightyFive,

    /// <summary>It sends something that isn't a number.</summary>
    Unreadable,

    /// <summary>It says again and again what it said last.</summary>
    Stuck,

    /// <summary>Its plug is loose: about one value in fifty is far off, and the next is right again.</summary>
    Loose,
}

/// <summary>One measurement as the probe would send it.</summary>
/// <param name="Probe">Index of the probe in <see cref="World.Probes"/>.</param>
/// <param name="Measured">What of.</param>
/// <param name="Value">°C or %RH, with the probe's lag, offset, noise and step; NaN when it is unreadable.</param>
/// <param name="AtMs">True time, Unix ms.</param>
/// <param name="ProbeClockMs">Time by the probe's own clock, Unix ms.</param>
public readonly record struct ProbeSample(int Probe, Measured Measured, double Value, long AtMs, long ProbeClockMs);

/// <summary>Takes samples as they come; a struct makes the call free.</summary>
public interface ISampleSink
{
    /// <summary>One measurement. Those of one probe come in order of time; those of different probes within an inner step don't.</summary>
    void Take(in ProbeSample sample);
}
