using System.Text;
using static Incubation.Core.Tests.Readings.Fuzz.FuzzWords;

namespace Incubation.Core.Tests.Readings.Fuzz;

/// <summary>
/// Makes payloads from the corpus and from the grammar, then changes some of them, first as trees and then as bytes. The same seed gives the
/// same payloads on every machine.
/// </summary>
internal sealed class FuzzPayloads(Random random, IReadOnlyList<FuzzTree> trees, IReadOnlyList<byte[]> raw)
{
    /// <summary>Payloads from the folder of the corpus: <c>.txt</c> and <c>.json</c> as they are, <c>.hex</c> as bytes.</summary>
    public static FuzzPayloads FromCorpus(string folder, int seed)
    {
        List<FuzzTree> trees = [];
        List<byte[]> raw = [];
        foreach (string file in Directory.EnumerateFiles(folder).Order(StringComparer.Ordinal))
        {
            string text = File.ReadAllText(file);
            raw.Add(file.EndsWith(".hex", StringComparison.Ordinal) ? Convert.FromHexString(text) : Encoding.UTF8.GetBytes(text));
            if (file.EndsWith(".json", StringComparison.Ordinal))
            {
                trees.Add(FuzzTree.Parse(text));
            }
        }

        return new FuzzPayloads(new Random(seed), trees, raw);
    }

    public byte[] Next()
    {
        byte[] payload = random.Next(10) switch
        {
            0 => Encoding.UTF8.GetBytes(Pick(random, Numbers).Trim('"')),
            1 => [.. Pick(random, raw)],
            2 or 3 => Written(Changed(Pick(random, trees).Copy())),
            4 or 5 or 6 => Written(ObjectTree()),
            _ => Written(PackTree()),
        };
        return random.Next(100) < 18 ? Damaged([.. payload]) : payload;
    }

    private byte[] Written(FuzzTree tree)
    {
        if (random.Next(100) < 15)
        {
            tree = Changed(tree);
        }

        if (random.Next(100) < (tree is FuzzList ? 50 : 2))
        {
            return FuzzCbor.Write(tree, random);
        }

        StringBuilder text = new(random.Next(30) == 0 ? "\uFEFF" : random.Next(30) == 0 ? " \r\n" : "");
        tree.WriteJson(text);
        return Encoding.UTF8.GetBytes(text.ToString());
    }

    private FuzzObject ObjectTree()
    {
        List<(string, FuzzTree)> fields = [];
        Sometimes(fields, 5, 6, "value", Numbers);
        Sometimes(fields, 1, 3, "unit", Units);
        Sometimes(fields, 1, 2, "at", Times);
        Sometimes(fields, 1, 4, "temperature", Numbers);
        Sometimes(fields, 1, 4, "humidity", Numbers);
        Sometimes(fields, 1, 6, "battery", Numbers);
        Sometimes(fields, 1, 6, "signal", Numbers);
        Sometimes(fields, 1, 6, "door", States);
        Sometimes(fields, 1, 9, "tempF", Numbers);
        if (random.Next(6) == 0)
        {
            fields.Add(("sensor", new FuzzObject([("temp", new FuzzAtom(Pick(random, Numbers))), ("deep", FuzzTree.Parse("[1,{\"er\":\"\\n\"}]"))])));
        }

        return new FuzzObject([.. fields.OrderBy(_ => random.Next())]);
    }

    private FuzzList PackTree()
    {
        List<FuzzTree> records = [];
        for (int left = random.Next(1, 5); left > 0; left--)
        {
            List<(string, FuzzTree)> fields = [];
            Sometimes(fields, 1, 5, "bn", Quoted(Names));
            Sometimes(fields, 1, 6, "bt", Times);
            Sometimes(fields, 1, 6, "bu", Units);
            Sometimes(fields, 1, 12, "bv", Numbers);
            Sometimes(fields, 1, 20, "bs", Numbers);
            Sometimes(fields, 1, 16, "bver", Versions);
            Sometimes(fields, 4, 5, "n", Quoted(Names));
            Sometimes(fields, 2, 3, "u", Units);
            Sometimes(fields, 9, 10, "v", Numbers);
            Sometimes(fields, 1, 10, "vb", States);
            Sometimes(fields, 1, 12, "vs", States);
            Sometimes(fields, 1, 20, "vd", Units);
            Sometimes(fields, 1, 12, "s", Numbers);
            Sometimes(fields, 1, 3, "t", Times);
            Sometimes(fields, 1, 12, "ut", Times);
            records.Add(new FuzzObject(fields));
        }

        return new FuzzList(records);
    }

    private static string[] Quoted(string[] names) => [.. names.Select(n => $"\"{n}\"")];

    private void Sometimes(List<(string, FuzzTree)> fields, int chances, int of, string name, string[] values)
    {
        if (random.Next(of) < chances)
        {
            fields.Add((name, new FuzzAtom(Pick(random, values))));
        }
    }

    private FuzzTree Changed(FuzzTree tree)
    {
        FuzzTree at = Pick(random, tree.All().ToList());
        switch (at)
        {
            case FuzzAtom atom:
                atom.Json = Pick(random, Pick(random, [Numbers, Units, Times, States, Versions]));
                break;
            case FuzzObject { Fields.Count: > 0 } fields:
                Change(fields.Fields);
                break;
            case FuzzList { Items.Count: > 0 } list when random.Next(3) == 0:
                list.Items.RemoveAt(random.Next(list.Items.Count));
                break;
            case FuzzList { Items.Count: > 0 } list:
                list.Items.Insert(random.Next(list.Items.Count), Pick(random, list.Items).Copy());
                break;
            default:
                return random.Next(2) == 0 ? new FuzzList([tree]) : new FuzzObject([("value", tree)]);
        }

        return tree;
    }

    private void Change(List<(string Name, FuzzTree Value)> fields)
    {
        int at = random.Next(fields.Count);
        string other = Pick(random, random.Next(2) == 0 ? ObjectFields : RecordFields);
        switch (random.Next(5))
        {
            case 0:
                fields.RemoveAt(at);
                break;
            case 1:
                fields.Add((fields[at].Name, fields[at].Value.Copy()));
                break;
            case 2:
                fields[at] = (other, fields[at].Value);
                break;
            case 3:
                fields.Insert(at, (other, new FuzzAtom(Pick(random, Numbers))));
                break;
            default:
                FuzzTree deep = fields[at].Value;
                for (int levels = random.Next(1, 20); levels > 0; levels--)
                {
                    deep = new FuzzObject([(other, deep)]);
                }

                fields[at] = (fields[at].Name, deep);
                break;
        }
    }

    private byte[] Damaged(List<byte> bytes)
    {
        for (int damage = random.Next(1, 3); damage > 0 && bytes.Count > 0; damage--)
        {
            int at = random.Next(bytes.Count);
            switch (random.Next(6))
            {
                case 0:
                    bytes[at] = (byte)random.Next(256);
                    break;
                case 1:
                    bytes[at] ^= (byte)(1 << random.Next(8));
                    break;
                case 2:
                    bytes.RemoveAt(at);
                    break;
                case 3:
                    bytes.Insert(at, Pick(random, "{}[]\",:0 \\\0"u8.ToArray()));
                    break;
                case 4:
                    bytes.RemoveRange(at, bytes.Count - at);
                    break;
                default:
                    bytes.AddRange(bytes.GetRange(at, bytes.Count - at));
                    break;
            }
        }

        return [.. bytes];
    }
}
