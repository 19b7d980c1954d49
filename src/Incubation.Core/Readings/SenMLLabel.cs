namespace Incubation.Core.Readings;

/// <summary>Labels of SenML fields, by their numbers in CBOR (RFC 8428, table 4).</summary>
internal enum SenMLLabel
{
    /// <summary>Unknown and ignored, as it must be.</summary>
    Ignored = int.MinValue,

    /// <summary>Unknown, and to be understood: its name ends in an underscore.</summary>
    MustKnow = int.MaxValue,
    BaseSum = -6,
    BaseValue = -5,
    BaseUnit = -4,
    BaseTime = -3,
    BaseName = -2,
    Version = -1,
    Name = 0,
    Unit = 1,
    Value = 2,
    TextValue = 3,
    FlagValue = 4,
    Sum = 5,
    Time = 6,
    UpdateTime = 7,
    DataValue = 8,
}

/// <summary>Tells labels from their names and numbers.</summary>
internal static class SenMLLabels
{
    /// <summary>Of a name in JSON, or of one that CBOR spells out.</summary>
    public static SenMLLabel Of(ReadOnlySpan<byte> name) => name switch
    {
        [(byte)'n'] => SenMLLabel.Name,
        [(byte)'u'] => SenMLLabel.Unit,
        [(byte)'v'] => SenMLLabel.Value,
        [(byte)'t'] => SenMLLabel.Time,
        [(byte)'s'] => SenMLLabel.Sum,
        [(byte)'v', (byte)'s'] => SenMLLabel.TextValue,
        [(byte)'v', (byte)'b'] => SenMLLabel.FlagValue,
        [(byte)'v', (byte)'d'] => SenMLLabel.DataValue,
        [(byte)'u', (byte)'t'] => SenMLLabel.UpdateTime,
        [(byte)'b', (byte)'n'] => SenMLLabel.BaseName,
        [(byte)'b', (byte)'t'] => SenMLLabel.BaseTime,
        [(byte)'b', (byte)'u'] => SenMLLabel.BaseUnit,
        [(byte)'b', (byte)'v'] => SenMLLabel.BaseValue,
        [(byte)'b', (byte)'s'] => SenMLLabel.BaseSum,
        [(byte)'b', (byte)'v', (byte)'e', (byte)'r'] => SenMLLabel.Version,
        [.., (byte)'_'] => SenMLLabel.MustKnow,
        _ => SenMLLabel.Ignored,
    };

    /// <summary>Of a number in CBOR.</summary>
    public static SenMLLabel Of(long number) =>
        number is >= (int)SenMLLabel.BaseSum and <= (int)SenMLLabel.DataValue ? (SenMLLabel)(int)number : SenMLLabel.Ignored;
}
