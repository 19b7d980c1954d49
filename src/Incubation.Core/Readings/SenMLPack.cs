namespace Incubation.Core.Readings;

/// <summary>
/// Reads a SenML pack (RFC 8428) into resolved records. A pack that can't be understood as a whole is refused; a record that can't be used is
/// given with its fault. Base fields hold from their record to the next that has the same one (section 4.1).
/// </summary>
public sealed class SenMLPack
{
    private const int NewestVersion = 10;

    private readonly List<SenMLRecord> _records = [];
    private string _baseName = "", _baseUnit = "";
    private double? _baseTime, _baseValue, _baseSum;
    private Fields _fields;

    private SenMLPack()
    {
    }

    /// <summary>Reads a pack. Never throws on bad input.</summary>
    /// <param name="pack">The whole payload.</param>
    /// <param name="form">How it is written.</param>
    /// <param name="records">The records that have a value, a sum or a fault; empty when the pack is refused.</param>
    /// <param name="reason">Why the pack is refused, or null.</param>
    public static bool TryRead(ReadOnlySpan<byte> pack, SenMLForm form, out IReadOnlyList<SenMLRecord> records, out string? reason)
    {
        SenMLPack reading = new();
        reason = form == SenMLForm.Json ? SenMLJson.Read(pack, reading) : SenMLCbor.Read(pack, reading);
        records = reason is null ? reading._records : [];
        return reason is null;
    }

    internal void Number(SenMLLabel label, double number)
    {
        switch (label)
        {
            case SenMLLabel.BaseTime:
                Base(ref _fields.BaseTime, number);
                break;
            case SenMLLabel.BaseValue:
                Base(ref _fields.BaseValue, number);
                break;
            case SenMLLabel.BaseSum:
                Base(ref _fields.BaseSum, number);
                break;
            case SenMLLabel.Version:
                if (number is not (>= 1 and <= NewestVersion) || number != Math.Floor(number))
                {
                    _fields.Refusal ??= Rejections.PackVersion;
                }

                break;
            case SenMLLabel.Value:
                Value(SenMLValue.Number, number, null);
                break;
            case SenMLLabel.Sum:
                Regular(ref _fields.Sum, number);
                break;
            case SenMLLabel.Time:
                Regular(ref _fields.Time, number);
                break;
            case SenMLLabel.UpdateTime:
                break;
            default:
                Other(label);
                break;
        }
    }

    internal void Text(SenMLLabel label, string text)
    {
        switch (label)
        {
            case SenMLLabel.BaseName:
                Base(ref _fields.BaseName, text);
                break;
            case SenMLLabel.BaseUnit:
                Base(ref _fields.BaseUnit, text);
                break;
            case SenMLLabel.Name:
                Regular(ref _fields.Name, text);
                break;
            case SenMLLabel.Unit:
                Regular(ref _fields.Unit, text);
                break;
            case SenMLLabel.TextValue:
                Value(SenMLValue.Text, 0, text);
                break;
            case SenMLLabel.DataValue:
                Value(SenMLValue.Data, 0, null);
                break;
            default:
                Other(label);
                break;
        }
    }

    internal void Flag(SenMLLabel label, bool flag)
    {
        if (label == SenMLLabel.FlagValue)
        {
            Value(SenMLValue.Flag, flag ? 1 : 0, null);
        }
        else
        {
            Other(label);
        }
    }

    /// <summary>A value of a type that the label can't have, or of a label that is not known.</summary>
    internal void Other(SenMLLabel label)
    {
        switch (label)
        {
            case SenMLLabel.Ignored:
                break;
            case SenMLLabel.MustKnow:
                _fields.Refusal = Rejections.PackMustKnow;
                break;
            case SenMLLabel.Version:
                _fields.Refusal ??= Rejections.PackVersion;
                break;
            case < 0:
                _fields.Refusal ??= Rejections.PackBase;
                break;
            default:
                _fields.Fault = Rejections.RecordField;
                break;
        }
    }

    /// <summary>Resolves the record whose fields were handed in.</summary>
    /// <returns>Why the whole pack is refused, or null.</returns>
    internal string? EndRecord()
    {
        Fields fields = _fields;
        _fields = default;
        if (fields.Refusal is not null)
        {
            return fields.Refusal;
        }

        (_baseName, _baseUnit) = (fields.BaseName ?? _baseName, fields.BaseUnit ?? _baseUnit);
        (_baseTime, _baseValue, _baseSum) = (fields.BaseTime ?? _baseTime, fields.BaseValue ?? _baseValue, fields.BaseSum ?? _baseSum);
        if (fields.IsBaseOnly)
        {
            // Sets the base for those that follow.
            return null;
        }

        double? sum = Added(fields.Sum, _baseSum);
        bool hasValue = fields.Kind != SenMLValue.None;
        string? fault = fields.Fault ?? (hasValue || sum is not null ? null : Rejections.RecordValues);
        double number = fields.Number + (fields.Kind == SenMLValue.Number ? _baseValue ?? 0 : 0);
        _records.Add(new SenMLRecord(
            _baseName + fields.Name, fields.Name ?? "", fields.Unit ?? _baseUnit, fields.Kind, number, fields.Text, sum,
            Added(fields.Time, _baseTime), fault));
        return _records.Count > Limits.ReadingsPerMessage ? Rejections.TooMany : null;
    }

    private static double? Added(double? own, double? shared) => own is null ? shared : own + (shared ?? 0);

    private void Base<T>(ref T? field, T value)
    {
        if (field is not null)
        {
            _fields.Refusal ??= Rejections.PackBase;
        }

        field = value;
    }

    private void Base(ref double? field, double value)
    {
        if (field is not null || !double.IsFinite(value))
        {
            _fields.Refusal ??= Rejections.PackBase;
        }

        field = value;
    }

    private void Regular<T>(ref T? field, T value)
    {
        _fields.Fault ??= field is null ? null : Rejections.RecordField;
        field = value;
    }

    private void Regular(ref double? field, double value)
    {
        _fields.Fault ??= field is null ? null : Rejections.RecordField;
        field = value;
    }

    private void Value(SenMLValue kind, double number, string? text)
    {
        _fields.Fault ??= _fields.Kind == SenMLValue.None ? null : Rejections.RecordValues;
        (_fields.Kind, _fields.Number, _fields.Text) = (kind, number, text);
    }

    private struct Fields
    {
        public string? BaseName, BaseUnit, Name, Unit, Text, Fault, Refusal;
        public double? BaseTime, BaseValue, BaseSum, Sum, Time;
        public SenMLValue Kind;
        public double Number;

        public readonly bool IsBaseOnly =>
            Kind == SenMLValue.None && Name is null && Unit is null && Sum is null && Time is null && Fault is null;
    }
}
