using System.Formats.Cbor;
using System.Text;
using Incubation.Core.Readings;
using Xunit;

namespace Incubation.Core.Tests.Readings;

/// <summary>Packs as RFC 8428 has them, and as it doesn't.</summary>
public sealed class SenMLPackTests
{
    [Fact]
    public void TryRead_base_fields_hold_until_the_next_of_the_same_label()
    {
        IReadOnlyList<SenMLRecord> records = Records("""
            [{"bn":"a:","bu":"Cel","bt":1000000000,"n":"x","v":1},{"n":"y","u":"K","t":-5,"v":2},{"bn":"b:","n":"x","v":3},{"bu":"","n":"y","v":4}]
            """);

        Assert.Equal(["a:x", "a:y", "b:x", "b:y"], records.Select(r => r.Name));
        Assert.Equal(["Cel", "K", "Cel", ""], records.Select(r => r.Unit));
        Assert.Equal([1e9, 999_999_995, 1e9, 1e9], records.Select(r => r.Time!.Value));
        Assert.Equal([1.0, 2, 3, 4], records.Select(r => r.Number));
    }

    [Fact]
    public void TryRead_base_value_and_base_sum_are_added_and_a_base_value_is_no_value()
    {
        IReadOnlyList<SenMLRecord> records = Records("""[{"bv":30,"bs":100,"n":"x","v":1.5},{"n":"y","s":5},{"n":"z","vb":true}]""");

        Assert.Equal((31.5, 100.0), (records[0].Number, records[0].Sum));
        Assert.Equal((SenMLValue.None, 105.0), (records[1].Kind, records[1].Sum));
        Assert.Equal((SenMLValue.Flag, 1.0), (records[2].Kind, records[2].Number));
    }

    [Fact]
    public void TryRead_record_of_base_fields_alone_only_sets_them() =>
        Assert.Equal("p:temperature", Assert.Single(Records("""[{"bn":"p:","bver":10,"bu":"Cel"},{"n":"temperature","v":31.4}]""")).Name);

    [Theory]
    [InlineData("""[{"n":"x"}]""", "more than one value or none")]
    [InlineData("""[{"bv":1,"n":"x"}]""", "more than one value or none")]
    [InlineData("""[{"n":"x","v":1,"vb":true}]""", "more than one value or none")]
    [InlineData("""[{"n":"x","v":1,"v":2}]""", "more than one value or none")]
    [InlineData("""[{"n":"x","v":"1"}]""", "wrong type or there twice")]
    [InlineData("""[{"n":"x","v":null}]""", "wrong type or there twice")]
    [InlineData("""[{"n":7,"v":1}]""", "wrong type or there twice")]
    [InlineData("""[{"n":"x","n":"y","v":1}]""", "wrong type or there twice")]
    [InlineData("""[{"n":"x","t":"now","v":1}]""", "wrong type or there twice")]
    [InlineData("""[{"n":"x","vb":1}]""", "wrong type or there twice")]
    [InlineData("""[{"n":"x","vs":{},"v":1}]""", "wrong type or there twice")]
    public void TryRead_record_that_cannot_be_used_says_why_and_costs_no_other(string pack, string words)
    {
        IReadOnlyList<SenMLRecord> records = Records(pack[..^1] + """,{"n":"good","v":31}]""");

        Assert.Contains(words, records[0].Fault, StringComparison.Ordinal);
        Assert.Equal((null, "good"), (records[1].Fault, records[1].Name));
    }

    [Theory]
    [InlineData("""[{"n":"x","v":1,"must_":0}]""", "ends in _")]
    [InlineData("""[{"n":"x","v":1},{"n":"y","v":1,"other_":{"a":[1]}}]""", "ends in _")]
    [InlineData("""[{"n":"x","v":1,"m\u005f":"text"}]""", "ends in _")]
    [InlineData("""[{"bver":11,"n":"x","v":1}]""", "newer version")]
    [InlineData("""[{"bver":0,"n":"x","v":1}]""", "newer version")]
    [InlineData("""[{"bver":9.5,"n":"x","v":1}]""", "newer version")]
    [InlineData("""[{"bver":"10","n":"x","v":1}]""", "newer version")]
    [InlineData("""[{"bn":7,"n":"x","v":1}]""", "base field")]
    [InlineData("""[{"bt":"now","n":"x","v":1}]""", "base field")]
    [InlineData("""[{"bt":1e400,"n":"x","v":1}]""", "base field")]
    [InlineData("""[{"bu":null,"n":"x","v":1}]""", "base field")]
    [InlineData("""[{"bn":"a","bn":"b","n":"x","v":1}]""", "base field")]
    [InlineData("""[{"bv":1,"bv":1,"n":"x","v":1}]""", "base field")]
    [InlineData("""[{"n":"x","v":1},31.4]""", "no SenML pack")]
    [InlineData("""[[{"n":"x","v":1}]]""", "no SenML pack")]
    [InlineData("""[{"n":"x","v":1}""", "broken")]
    [InlineData("""[{"n":"x","v":1}] []""", "broken")]
    [InlineData("""[{"n":"x","v":1,}]""", "broken")]
    [InlineData("""[{"n":"x","vs":"\ud800"}]""", "UTF-8")]
    public void TryRead_pack_that_cannot_be_understood_is_refused_whole(string pack, string words)
    {
        Assert.False(SenMLPack.TryRead(Encoding.UTF8.GetBytes(pack), SenMLForm.Json, out IReadOnlyList<SenMLRecord> records, out string? reason));
        Assert.Empty(records);
        Assert.Contains(words, reason, StringComparison.Ordinal);
    }

    [Fact]
    public void TryRead_unknown_labels_are_ignored_whatever_they_hold() =>
        Assert.Null(Assert.Single(Records("""[{"n":"x","v":1,"more":[{"_":1}],"_x":null,"l":"[]","ut":60}]""")).Fault);

    [Fact]
    public void TryRead_more_records_than_a_message_may_have_is_refused()
    {
        string most = "[" + string.Join(',', Enumerable.Repeat("{\"v\":1}", Limits.ReadingsPerMessage)) + "]";
        Assert.Equal(Limits.ReadingsPerMessage, Records(most).Count);

        Assert.False(SenMLPack.TryRead(Encoding.UTF8.GetBytes(most[..^1] + ",{\"v\":1}]"), SenMLForm.Json, out _, out string? reason));
        Assert.Contains("10000 readings", reason, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("81a2006178021a7735940a", 2_000_000_010)]
    [InlineData("81a20061780220", -1)]
    [InlineData("81a200617802f95000", 32)]
    [InlineData("81a200617802fa41fb3333", 31.399999618530273)]
    [InlineData("81a200617802fb403f666666666666", 31.4)]
    [InlineData("81a200617802c4822019013a", 31.4)]
    [InlineData("81a200617802c48200c2420102", 258)]
    [InlineData("81a200617802c48220c342013f", -32)]
    [InlineData("d9d9f781a2006178021820", 32)]
    [InlineData("9fbf00617802f95000ffff", 32)]
    [InlineData("81a2616e61786176f95000", 32)]
    [InlineData("81a3006178021820a1f600f6", 32)]
    [InlineData("81a300617802182019ffff00", 32)]
    [InlineData("81a3006178021820c1fb41d94e0af3f5c28f00", 32)]
    public void TryRead_number_in_every_form_that_CBOR_has(string hex, double number)
    {
        SenMLRecord record = Assert.Single(Cbor(hex));

        Assert.Equal(("x", SenMLValue.Number, number, null), (record.Name, record.Kind, record.Number, record.Fault));
    }

    [Theory]
    [InlineData("81a200617804f5", SenMLValue.Flag)]
    [InlineData("81a20061780362686f", SenMLValue.Text)]
    [InlineData("81a2006178037f616861 6fff", SenMLValue.Text)]
    [InlineData("81a20061780842cafe", SenMLValue.Data)]
    public void TryRead_other_values_in_CBOR(string hex, SenMLValue kind) =>
        Assert.Equal((kind, null), (Cbor(hex)[0].Kind, Cbor(hex)[0].Fault));

    [Theory]
    [InlineData("81a2006178086261 62", "wrong type")]
    [InlineData("81a200617802c24101", "wrong type")]
    [InlineData("81a200617802f6", "wrong type")]
    [InlineData("81a20041780201", "wrong type")]
    [InlineData("81a200617803420102", "wrong type")]
    public void TryRead_record_in_CBOR_of_a_wrong_type_says_so(string hex, string words) =>
        Assert.Contains(words, Cbor(hex)[0].Fault, StringComparison.Ordinal);

    [Theory]
    [InlineData("81a20061780201 00", "broken")]
    [InlineData("82a20061780201", "broken")]
    [InlineData("81a2006178", "broken")]
    [InlineData("9b7fffffffffffffffa20061780201", "broken")]
    [InlineData("81bb7fffffffffffffff0061780201", "broken")]
    [InlineData("81a200617802c48200c25101000000000000000000000000000000 00", "broken")]
    [InlineData("81a200617802c4821b7fffffffffffffffff01", "broken")]
    [InlineData("81a2007bffffffffffffffff02", "broken")]
    [InlineData("81ff", "broken")]
    [InlineData("81a20061780220ff", "broken")]
    [InlineData("8101", "no SenML pack")]
    [InlineData("81a320f96000006178020 1", "newer version")]
    [InlineData("81a320f949 80006178020 1", "newer version")]
    [InlineData("81a3006178020161 5f01", "ends in _")]
    public void TryRead_CBOR_that_cannot_be_understood_is_refused_whole(string hex, string words)
    {
        Assert.False(SenMLPack.TryRead(Bytes(hex), SenMLForm.Cbor, out _, out string? reason));
        Assert.Contains(words, reason, StringComparison.Ordinal);
    }

    [Fact]
    public void TryRead_CBOR_of_any_depth_is_stepped_over_or_refused_without_end_of_the_stack()
    {
        Assert.True(SenMLPack.TryRead(Deep(50), SenMLForm.Cbor, out IReadOnlyList<SenMLRecord> records, out string? reason), reason);
        Assert.Equal(1, Assert.Single(records).Number);
        Assert.False(SenMLPack.TryRead(Deep(60_000), SenMLForm.Cbor, out _, out reason));
        Assert.Contains("broken", reason, StringComparison.Ordinal);
    }

    [Fact]
    public void TryRead_decimal_fraction_is_the_number_that_JSON_would_give()
    {
        foreach (decimal value in new[] { 31.4m, -0.1m, 1e-7m, 123456789.123456789m, 79228162514264.33m })
        {
            CborWriter cbor = new();
            cbor.WriteStartArray(1);
            cbor.WriteStartMap(1);
            cbor.WriteInt32(2);
            cbor.WriteTag(CborTag.DecimalFraction);
            cbor.WriteStartArray(2);
            cbor.WriteInt64(-value.Scale);
            cbor.WriteInt64((long)(value * (decimal)Math.Pow(10, value.Scale)));
            cbor.WriteEndArray();
            cbor.WriteEndMap();
            cbor.WriteEndArray();
            Assert.True(SenMLPack.TryRead(cbor.Encode(), SenMLForm.Cbor, out IReadOnlyList<SenMLRecord> records, out _));
            Assert.Equal((double)value, records[0].Number);
        }
    }

    // A record with a label 99 that nobody knows, which holds lists in lists.
    private static byte[] Deep(int levels) => [0x81, 0xA3, 0x00, 0x61, 0x78, 0x02, 0x01, 0x18, 0x63, .. Enumerable.Repeat((byte)0x81, levels), 0x00];

    private static IReadOnlyList<SenMLRecord> Records(string json)
    {
        Assert.True(SenMLPack.TryRead(Encoding.UTF8.GetBytes(json), SenMLForm.Json, out IReadOnlyList<SenMLRecord> records, out string? reason), reason);
        return records;
    }

    private static IReadOnlyList<SenMLRecord> Cbor(string hex)
    {
        Assert.True(SenMLPack.TryRead(Bytes(hex), SenMLForm.Cbor, out IReadOnlyList<SenMLRecord> records, out string? reason), reason);
        return records;
    }

    private static byte[] Bytes(string hex) => Convert.FromHexString(hex.Replace(" ", "", StringComparison.Ordinal));
}
