namespace Incubation.Core.Readings;

/// <summary>What was measured, by the last part of its topic. Temperature is held in °C, humidity in %RH; others as sent.</summary>
/// <param name="Name">Lower-case name, 1 to 40 characters of a–z, 0–9 and hyphen, as it stands in the topic.</param>
public readonly record struct Quantity(string Name)
{
    /// <summary>Temperature, °C.</summary>
    public static Quantity Temperature { get; } = new("temperature");

    /// <summary>Relative humidity over water, %RH.</summary>
    public static Quantity Humidity { get; } = new("humidity");

    /// <summary>Unit the value is held in: UCUM <c>Cel</c> for temperature, SenML <c>%RH</c> for humidity, else empty.</summary>
    public string Unit => Name switch { "temperature" => "Cel", "humidity" => "%RH", _ => "" };

    /// <inheritdoc/>
    public override string ToString() => Name;
}
