using System.ComponentModel.DataAnnotations;

namespace Incubation.Service.Demo;

/// <summary>What can be set about the demo, under <c>Demo</c>: beside and not in <c>Incubation</c>, whose unknown keys are errors.</summary>
internal sealed class DemoSettings
{
    public const string Section = "Demo";

    /// <summary>Where all chance of the demo comes from.</summary>
    [Range(0, long.MaxValue)] public long Seed { get; set; } = 20_261_125;

    /// <summary>Simulated seconds in one real one.</summary>
    /// <value>0.1 to 600; default 1.</value>
    [Range(0.1, 600)] public double Speed { get; set; } = 1;

    /// <summary>Simulated seconds from the start until Juniper's heater sticks on.</summary>
    /// <value>0 to 86 400; default 20, which raises an alarm within two minutes of the start.</value>
    [Range(0, 86_400)] public double DriftAfterSeconds { get; set; } = 20;

    /// <summary>Simulated seconds from the answer until the keeper has mended the heater.</summary>
    [Range(0, 86_400)] public double MendedAfterAnswerSeconds { get; set; } = 180;

    /// <summary>Simulated seconds from the drift until somebody mends it even when nobody answered.</summary>
    [Range(1, 86_400)] public double MendedAnywayAfterSeconds { get; set; } = 900;

    /// <summary>Simulated seconds from one mended drift to the next.</summary>
    [Range(60, 864_000)] public double DriftAgainAfterSeconds { get; set; } = 3 * 3600;
}
