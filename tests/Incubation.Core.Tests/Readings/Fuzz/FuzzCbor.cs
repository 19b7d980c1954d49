using System.Formats.Cbor;
using System.Globalization;

namespace Incubation.Core.Tests.Readings.Fuzz;

/// <summary>Writes a tree as CBOR, SenML's labels as their numbers (RFC 8428, table 4), numbers in one of the forms that CBOR has for them.</summary>
internal static class FuzzCbor
{
    private static readonly Dictionary<string, int> Labels = new()
    {
        ["bver"] = -1,
        ["bn"] = -2,
        ["bt"] = -3,
        ["bu"] = -4,
        ["bv"] = -5,
        ["bs"] = -6,
        ["n"] = 0,
        ["u"] = 1,
        ["v"] = 2,
        ["vs"] = 3,
        ["vb"] = 4,
        ["s"] = 5,
        ["t"] = 6,
        ["ut"] = 7,
        ["vd"] = 8,
    };

    /// <summary>Writes a tree.</summary>
    /// <param name="tree">What to write.</param>
    /// <param name="random">Chooses among forms.</param>
    /// <param name="exact">Whether every number must come back as it was: no half precision, no labels and keys that nobody knows.</param>
    public static byte[] Write(FuzzTree tree, Random random, bool exact = false)
    {
        CborWriter cbor = new(CborConformanceMode.Lax, convertIndefiniteLengthEncodings: false, allowMultipleRootLevelValues: true);
        if (random.Next(12) == 0)
        {
            cbor.WriteTag(CborTag.SelfDescribeCbor);
        }

        Write(cbor, tree, random, exact);
        return cbor.Encode();
    }

    private static void Write(CborWriter cbor, FuzzTree tree, Random random, bool exact)
    {
        switch (tree)
        {
            case FuzzObject fields:
                cbor.WriteStartMap(random.Next(8) == 0 ? null : fields.Fields.Count);
                foreach ((string name, FuzzTree value) in fields.Fields)
                {
                    WriteLabel(cbor, name, random, exact);
                    if (name == "vd" && value is FuzzAtom)
                    {
                        cbor.WriteByteString([1, 2, 3]);
                    }
                    else
                    {
                        Write(cbor, value, random, exact);
                    }
                }

                cbor.WriteEndMap();
                break;
            case FuzzList list:
                cbor.WriteStartArray(random.Next(8) == 0 ? null : list.Items.Count);
                list.Items.ForEach(item => Write(cbor, item, random, exact));
                cbor.WriteEndArray();
                break;
            default:
                WriteAtom(cbor, ((FuzzAtom)tree).Json, random, exact);
                break;
        }
    }

    private static void WriteLabel(CborWriter cbor, string name, Random random, bool exact)
    {
        if (Labels.TryGetValue(name, out int label) && (exact || random.Next(25) != 0))
        {
            cbor.WriteInt32(label);
        }
        else if (!exact && random.Next(30) == 0)
        {
            WriteAtom(cbor, random.Next(2) == 0 ? "1e3" : "18446744073709551615", random, exact);
        }
        else
        {
            cbor.WriteTextString(name);
        }
    }

    private static void WriteAtom(CborWriter cbor, string json, Random random, bool exact)
    {
        if (json is "true" or "false")
        {
            cbor.WriteBoolean(json == "true");
        }
        else if (json == "null")
        {
            cbor.WriteNull();
        }
        else if (!double.TryParse(json, NumberStyles.Float, CultureInfo.InvariantCulture, out double number))
        {
            cbor.WriteTextString(json.Trim('"'));
        }
        else if (number == Math.Floor(number) && Math.Abs(number) < 1e15 && random.Next(4) != 0)
        {
            cbor.WriteInt64((long)number);
        }
        else if (Math.Abs(number) < 1e12 && random.Next(4) == 0)
        {
            cbor.WriteDecimal((decimal)number);
        }
        else if (!exact && random.Next(3) == 0)
        {
            cbor.WriteHalf((Half)number);
        }
        else
        {
            cbor.WriteDouble(number);
        }
    }
}
