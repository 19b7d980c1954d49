namespace Incubation.Core.Readings;

/// <summary>In which form a SenML pack is written.</summary>
public enum SenMLForm
{
    /// <summary>JSON, RFC 8428 section 5.</summary>
    Json,

    /// <summary>CBOR, RFC 8428 section 6.</summary>
    Cbor,
}

/// <summary>What value a SenML record has.</summary>
public enum SenMLValue
{
    /// <summary>None; it may have a sum.</summary>
    None,

    /// <summary>A number (v).</summary>
    Number,

    /// <summary>True or false (vb), as 1 or 0.</summary>
    Flag,

    /// <summary>Text (vs).</summary>
    Text,

    /// <summary>Bytes (vd), which nobody here reads.</summary>
    Data,
}

/// <summary>A SenML record with the base fields of its pack applied ("resolved", RFC 8428 section 4.6), relative times left as they are.</summary>
/// <param name="Name">Base name and name together; empty when the pack has neither.</param>
/// <param name="OwnName">The name field alone.</param>
/// <param name="Unit">The record's unit, else the base unit; empty when there is neither.</param>
/// <param name="Kind">What value it has.</param>
/// <param name="Number">Base value and value together, in the unit; of a flag 1 or 0.</param>
/// <param name="Text">The text of a text value.</param>
/// <param name="Sum">Base sum and sum together, in the unit times seconds; null when there is neither.</param>
/// <param name="Time">
/// Base time and time together, seconds: since 1970 in UTC from <see cref="RelativeBelow"/> up, relative to now below it; null when there is neither.
/// </param>
/// <param name="Fault">Why the record can't be used, or null.</param>
public readonly record struct SenMLRecord(
    string Name, string OwnName, string Unit, SenMLValue Kind, double Number, string? Text, double? Sum, double? Time, string? Fault)
{
    /// <summary>Times below 2²⁸ s are relative to now (RFC 8428, section 4.5.3).</summary>
    public const double RelativeBelow = 1 << 28;
}
