namespace Incubation.Core.Readings;

/// <summary>What a quantity's values are, which is told by the last word of its name: <c>room-temperature</c> is a temperature.</summary>
public enum QuantityKind
{
    /// <summary>Anything else: held as sent, without a unit and without bounds.</summary>
    Other,

    /// <summary>Held in °C. Names end in <c>temperature</c>.</summary>
    Temperature,

    /// <summary>Relative humidity over water, held in %RH. Names end in <c>humidity</c>.</summary>
    Humidity,

    /// <summary>What is left in a battery, held in %. Names end in <c>battery</c>.</summary>
    Charge,

    /// <summary>Held in V. Names end in <c>voltage</c>.</summary>
    Voltage,

    /// <summary>Strength of a radio signal, held in dBm. Names end in <c>signal</c>.</summary>
    Signal,

    /// <summary>How good a radio link is, held in %. Names end in <c>signal-quality</c>.</summary>
    Quality,

    /// <summary>A contact: 1 is open, 0 is closed. Names end in <c>door</c>.</summary>
    Contact,
}

/// <summary>What was measured, by the last part of its topic. See <see cref="QuantityKind"/> for the units in which values are held.</summary>
/// <param name="Name">Lower-case name, 1 to 40 characters of a–z, 0–9 and hyphen, as it stands in the topic.</param>
public readonly record struct Quantity(string Name)
{
    /// <summary>Longest name, characters.</summary>
    public const int LongestName = 40;

    /// <summary>Temperature, °C.</summary>
    public static Quantity Temperature { get; } = new("temperature");

    /// <summary>Relative humidity over water, %RH.</summary>
    public static Quantity Humidity { get; } = new("humidity");

    /// <summary>Temperature of the room around the incubators, °C.</summary>
    public static Quantity RoomTemperature { get; } = new("room-temperature");

    /// <summary>What is left in the probe's battery, %.</summary>
    public static Quantity Battery { get; } = new("battery");

    /// <summary>Voltage of the probe's battery, V.</summary>
    public static Quantity BatteryVoltage { get; } = new("battery-voltage");

    /// <summary>Strength of the probe's radio signal, dBm.</summary>
    public static Quantity Signal { get; } = new("signal");

    /// <summary>How good the probe's radio link is, %.</summary>
    public static Quantity SignalQuality { get; } = new("signal-quality");

    /// <summary>Contact of a door or lid: 1 open, 0 closed.</summary>
    public static Quantity Door { get; } = new("door");

    /// <summary>The quantities that the service knows by name; probes may send others too.</summary>
    public static IReadOnlyList<Quantity> Known { get; } =
        [Temperature, Humidity, RoomTemperature, Battery, BatteryVoltage, Signal, SignalQuality, Door];

    /// <summary>What its values are.</summary>
    public QuantityKind Kind => Name switch
    {
        "temperature" => QuantityKind.Temperature,
        "humidity" => QuantityKind.Humidity,
        _ => KindOfLastWord(Name ?? ""),
    };

    /// <summary>
    /// Unit the value is held in: <c>Cel</c>, <c>%RH</c>, <c>%</c>, <c>V</c> or <c>dBm</c> (names of UCUM and of the SenML units registry);
    /// empty for contacts and others.
    /// </summary>
    public string Unit => Kind switch
    {
        QuantityKind.Temperature => "Cel",
        QuantityKind.Humidity => "%RH",
        QuantityKind.Charge or QuantityKind.Quality => "%",
        QuantityKind.Voltage => "V",
        QuantityKind.Signal => "dBm",
        _ => "",
    };

    /// <summary>Whether a text is 1 to 40 characters of a–z, 0–9 and hyphen.</summary>
    public static bool IsName(ReadOnlySpan<char> text) =>
        text.Length is > 0 and <= LongestName && text.IndexOfAnyExcept(NameCharacters) < 0;

    /// <inheritdoc/>
    public override string ToString() => Name;

    private static readonly System.Buffers.SearchValues<char> NameCharacters =
        System.Buffers.SearchValues.Create("abcdefghijklmnopqrstuvwxyz0123456789-");

    private static QuantityKind KindOfLastWord(string name) =>
        EndsIn(name, "temperature") ? QuantityKind.Temperature
        : EndsIn(name, "humidity") ? QuantityKind.Humidity
        : EndsIn(name, "battery") ? QuantityKind.Charge
        : EndsIn(name, "voltage") ? QuantityKind.Voltage
        : EndsIn(name, "signal") ? QuantityKind.Signal
        : EndsIn(name, "signal-quality") ? QuantityKind.Quality
        : EndsIn(name, "door") ? QuantityKind.Contact
        : QuantityKind.Other;

    private static bool EndsIn(string name, string word) =>
        name.EndsWith(word, StringComparison.Ordinal) && (name.Length == word.Length || name[^(word.Length + 1)] == '-');
}
