using System.Buffers;
using System.Text;

namespace Incubation.Core.Readings;

/// <summary>What a SenML record is about.</summary>
/// <param name="Series">Whose values and of what.</param>
/// <param name="Unit">The unit's code in UTF-8; empty for the held one.</param>
internal readonly record struct SenMLSubject(SeriesKey Series, byte[] Unit);

/// <summary>
/// Tells whose and of what a SenML record is. A resolved name has two parts, either of which may be missing: the device, and after the last
/// <c>:</c>, <c>/</c> or <c>.</c> (or <c>_</c>, as in the device URNs of RFC 9039) the quantity.
/// <list type="number">
/// <item>The last part is the quantity when it is a quantity's name or one of the configured fields.</item>
/// <item>Else the unit tells it: <c>Cel</c>, <c>%RH</c>, <c>%EL</c>, <c>dBm</c> and the like; the whole name is the device.</item>
/// <item>Else the last part is a quantity of its own when it comes from the record's own name, such as <c>co2</c>.</item>
/// <item>Else the topic tells it.</item>
/// </list>
/// No device is the topic's probe. Of a URN its last part is the probe (<c>urn:dev:ow:10e2073a01080063</c>); a whole name that is one word and no
/// quantity is one of several sensors of the topic's probe (<c>left</c> with <c>Cel</c> is <c>p7:left</c>); anything else is the probe as it
/// stands (<c>p8:temperature</c>), with <c>:</c> for <c>/</c>, which topics keep for themselves.
/// </summary>
internal sealed class SenMLNames(PayloadSource source, PayloadFields fields)
{
    private static readonly SearchValues<char> Allowed =
        SearchValues.Create("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-:./_");

    private static readonly SearchValues<char> Separators = SearchValues.Create(":/.");

    // A pack mostly has few names, each many times over.
    private readonly Dictionary<(string, string, string), SenMLSubject?> _told = [];

    /// <summary>Tells what a record is about; gives the reason when it can't.</summary>
    public bool TryTell(in SenMLRecord record, out SenMLSubject subject, out string? reason)
    {
        (string, string, string) key = (record.Name, record.OwnName, record.Unit);
        reason = null;
        if (!_told.TryGetValue(key, out SenMLSubject? told))
        {
            told = Tell(record, out reason);
            if (reason is null)
            {
                _told[key] = told;
            }
        }

        subject = told.GetValueOrDefault();
        return reason is null;
    }

    private SenMLSubject? Tell(in SenMLRecord record, out string? reason)
    {
        string name = record.Name;
        reason = name.Length > 0 && (!char.IsAsciiLetterOrDigit(name[0]) || name.AsSpan().IndexOfAnyExcept(Allowed) >= 0) ? Rejections.RecordName : null;
        if (reason is not null)
        {
            return null;
        }

        byte[] unit = Encoding.UTF8.GetBytes(record.Unit);
        if (!TrySplit(name, out string device, out Quantity quantity, ref unit))
        {
            device = name;
            if (OfUnit(unit) is { } told)
            {
                quantity = device.Length == 0 && source.Quantity is { } topics && topics.Kind == told.Kind ? topics : told;
            }
            else if (TrySplitOwn(record, out string rest, out Quantity own))
            {
                (device, quantity) = (rest, own);
            }
            else if (source.Quantity is { } topics)
            {
                quantity = topics;
            }
            else
            {
                reason = Rejections.RecordQuantity;
                return null;
            }
        }

        string? probe = Probe(device, alone: name.AsSpan().IndexOfAny(Separators) < 0);
        reason = probe is null ? Rejections.RecordName : null;
        return probe is null ? null : new SenMLSubject(new SeriesKey(probe, quantity), unit);
    }

    private bool TrySplit(string name, out string device, out Quantity quantity, ref byte[] unit)
    {
        int cut = name.AsSpan().LastIndexOfAny(Separators);
        string last = name[(cut + 1)..];
        device = cut < 0 ? "" : name[..cut];
        if (TryQuantity(last, out quantity, ref unit))
        {
            return true;
        }

        int line = last.LastIndexOf('_');
        device = line < 0 ? device : name[..(cut + 1 + line)];
        return line >= 0 && TryQuantity(last[(line + 1)..], out quantity, ref unit);
    }

    private bool TryQuantity(string word, out Quantity quantity, ref byte[] unit)
    {
        if (fields.TryQuantity(word, out quantity, out byte[] fieldsUnit))
        {
            unit = unit.Length == 0 ? fieldsUnit : unit;
            return true;
        }

        quantity = new Quantity(word.ToLowerInvariant());
        return Quantity.IsName(quantity.Name) && quantity.Kind != QuantityKind.Other;
    }

    private static bool TrySplitOwn(in SenMLRecord record, out string device, out Quantity quantity)
    {
        int cut = record.OwnName.AsSpan().LastIndexOfAny(Separators);
        quantity = new Quantity(record.OwnName[(cut + 1)..].ToLowerInvariant());
        device = record.Name[..^quantity.Name.Length];
        return Quantity.IsName(quantity.Name);
    }

    private static Quantity? OfUnit(ReadOnlySpan<byte> unit) =>
        unit.SequenceEqual("Cel"u8) || unit.SequenceEqual("K"u8) || unit.SequenceEqual("Ohm"u8) || unit.SequenceEqual("[degF]"u8)
            || unit.SequenceEqual("degF"u8) ? Quantity.Temperature
        : unit.SequenceEqual("%RH"u8) ? Quantity.Humidity
        : unit.SequenceEqual("%EL"u8) ? Quantity.Battery
        : unit.SequenceEqual("dBm"u8) || unit.SequenceEqual("dBW"u8) ? Quantity.Signal
        : null;

    // Alone: the record's whole name is one word.
    private string? Probe(string device, bool alone)
    {
        string name = device.TrimEnd(':', '/', '.', '_');
        if (name.Length == 0 || name == source.Probe)
        {
            return source.Probe;
        }

        string probe = name.StartsWith("urn:", StringComparison.OrdinalIgnoreCase) ? name[(name.LastIndexOfAny([':', '/']) + 1)..]
            : alone ? $"{source.Probe}:{name}"
            : name.Replace('/', ':');
        return probe.Length <= Limits.NameLength ? probe : null;
    }
}
