namespace Incubation.Core.Clutches;

/// <summary>Limits a new incubator begins with for a species; null where there is no such limit.</summary>
/// <param name="DangerLow">Danger below this.</param>
/// <param name="WarningLow">Warning below this.</param>
/// <param name="WarningHigh">Warning above this.</param>
/// <param name="DangerHigh">Danger above this.</param>
public sealed record BandLimits(double? DangerLow, double? WarningLow, double? WarningHigh, double? DangerHigh);

/// <summary>A species that clutches can be of.</summary>
/// <param name="Key">Short name that never changes; the development profile of the same key belongs to it.</param>
/// <param name="Name">Common name with the scientific one.</param>
/// <param name="Words">What a keeper should know, with where it comes from.</param>
/// <param name="LargeConstrictor">Whether pulling eggs from the female takes two people.</param>
/// <param name="Temperature">Default band, °C.</param>
/// <param name="Humidity">Default band, %RH.</param>
public sealed record Species(
    string Key, string Name, string Words, bool LargeConstrictor, BandLimits Temperature, BandLimits Humidity);

/// <summary>The species known so far; bands are common practice, no source, and the keeper may change them.</summary>
public static class SpeciesCatalogue
{
    private static readonly BandLimits PythonTemperature = new(29.5, 30.5, 32.5, 33.5);
    private static readonly BandLimits PythonHumidity = new(70, 80, null, null);

    /// <summary>All species, in the order they are offered.</summary>
    public static IReadOnlyList<Species> All { get; } =
    [
        new("python-regius", "Ball python (Python regius)",
            "Usually kept at 31 to 32 °C and very humid (common practice, no source).", false, PythonTemperature, PythonHumidity),
        new("python-bivittatus", "Burmese python (Python bivittatus)",
            "A large constrictor: two people when the eggs are pulled. Brooded nests were measured at 33 falling to 31 °C "
            + "(McBride et al. 2025); kept at 31 to 32 °C (common practice, no source).", true, PythonTemperature, PythonHumidity),
        new("elaphe-carinata", "King ratsnake (Elaphe carinata)",
            "Hatched best at 26 to 30 °C; at 32 °C fewer hatched (Ji & Du 2001, Table 1).", false,
            new(24, 26, 30, 31.5), new(60, 70, null, null)),
    ];

    /// <summary>The species of that key, or null.</summary>
    public static Species? Find(string key) => All.FirstOrDefault(species => species.Key == key);
}

/// <summary>What is shown before eggs are pulled, and who has to be there.</summary>
public static class PullingEggs
{
    /// <summary>Cautions for a species, the strongest first. They inform; training and a vet decide.</summary>
    public static IReadOnlyList<string> Cautions(Species species)
    {
        ArgumentNullException.ThrowIfNull(species);
        string[] always =
        [
            "Keep each egg the way up it lay: mark its top before you lift it.",
            "Eggs that stick together stay together: do not tear them apart.",
            "Wash your hands: snakes and their eggs carry Salmonella.",
        ];
        return species.LargeConstrictor
            ? ["A brooding large constrictor is strong and defends her eggs: two trained people, never alone.", .. always]
            : always;
    }

    /// <summary>For a large constrictor a second person's name is needed before the clutch is entered as pulled.</summary>
    /// <param name="species">The species.</param>
    /// <param name="secondPerson">Name as entered.</param>
    /// <param name="by">Who is entering it.</param>
    public static IEnumerable<Remark> Check(Species species, string? secondPerson, string by)
    {
        ArgumentNullException.ThrowIfNull(species);
        if (!species.LargeConstrictor)
        {
            yield break;
        }

        if (string.IsNullOrWhiteSpace(secondPerson))
        {
            yield return Remark.Refused("secondPerson",
                $"{species.Name} is a large constrictor: enter the name of the second person who is there when the eggs are pulled.");
        }
        else if (string.Equals(secondPerson.Trim(), by?.Trim(), StringComparison.OrdinalIgnoreCase))
        {
            yield return Remark.Refused("secondPerson", "The second person must be someone else than you.");
        }
    }
}
