using System.Globalization;
using CsCheck;
using Incubation.Core.Readings;
using Incubation.Core.Tests.Readings.Fuzz;
using Xunit;

namespace Incubation.Core.Tests.Readings;

/// <summary>What holds of every payload, whatever stands in it.</summary>
public sealed class PayloadLawTests
{
    private static readonly string[] Names = ["temperature", "humidity", "p7:temperature", "p7:humidity", "battery"];

    private static readonly Gen<(string Name, double Value, int Time)[]> Packs =
        Gen.Select(Gen.Int[0, Names.Length - 1], Gen.Int[0, 8000], Gen.Int[-300, 0])
            .Select((name, value, time) => (Names[name], value / 100.0, time)).Array[1, 12];

    [Fact]
    public void Read_any_good_value_written_out_comes_back_exactly() =>
        Gen.Double[-40, 80].Sample(value =>
        {
            string text = value.ToString("R", CultureInfo.InvariantCulture);
            Assert.Equal(value, Heard.Read(text).Readings.Span[0].Value);
            Assert.Equal(value, Heard.Read($"{{\"value\":{text}}}").Readings.Span[0].Value);
            Assert.Equal(value, Heard.Read($"[{{\"v\":{text}}}]").Readings.Span[0].Value);
            Assert.Equal(value, Heard.Read(FuzzCbor.Write(FuzzTree.Parse($"[{{\"v\":{text}}}]"), new Random(0), exact: true), Quantity.Temperature).Readings.Span[0].Value);
        });

    [Fact]
    public void Read_order_of_the_fields_of_an_object_makes_no_difference() =>
        Gen.Shuffle(new[] { "\"value\":88.52", "\"unit\":\"degF\"", "\"at\":1795575845", "\"battery\":87", "\"more\":{\"value\":1}", "\"humidity\":86" }).Sample(fields =>
            Assert.Equal(
                ["battery 87", "humidity 86", "temperature 31.4"],
                Heard.Read("{" + string.Join(',', fields) + "}").Readings.ToArray()
                    .Select(r => FormattableString.Invariant($"{r.Series.Quantity} {Math.Round(r.Value, 9)}")).Order(StringComparer.Ordinal)));

    [Fact]
    public void Read_pack_is_the_same_in_JSON_and_in_CBOR() =>
        Packs.Sample(pack =>
        {
            string json = Written(pack);
            byte[] cbor = FuzzCbor.Write(FuzzTree.Parse(json), new Random(1), exact: true);
            Assert.Null(Heard.Read(cbor, Quantity.Temperature).Rejection);
            Assert.Equal(Heard.Read(json).Readings.ToArray(), Heard.Read(cbor, Quantity.Temperature).Readings.ToArray());
        });

    [Fact]
    public void Read_pack_with_base_fields_is_the_same_as_one_without() =>
        Packs.Sample(pack =>
        {
            string plain = Written(pack), shared = "[" + string.Join(',', pack.Select((r, i) => FormattableString.Invariant(
                $"{{{(i == 0 ? "\"bn\":\"p7:\",\"bt\":-100," : "")}\"n\":\"{r.Name[(r.Name.IndexOf(':', StringComparison.Ordinal) + 1)..]}\",\"t\":{r.Time + 100},\"v\":{r.Value}}}"))) + "]";
            Assert.Equal(
                Heard.Read(plain.Replace("\"n\":\"p7:", "\"n\":\"", StringComparison.Ordinal).Replace("\"n\":\"", "\"n\":\"p7:", StringComparison.Ordinal)).Readings.ToArray(),
                Heard.Read(shared).Readings.ToArray());
        });

    [Fact]
    public void Read_pack_gives_what_its_records_give_one_by_one_in_the_order_of_their_times() =>
        Packs.Sample(pack =>
        {
            Reading[] alone = [.. pack.SelectMany(r => Heard.Read(Written([r])).Readings.ToArray())];
            Reading[] together = Heard.Read(Written(pack)).Readings.ToArray();

            Assert.Equal(alone.OrderBy(r => r.At).Select(Text).Order(StringComparer.Ordinal), together.Select(Text).Order(StringComparer.Ordinal));
            Assert.Equal(together.Select(r => r.At).Order(), together.Select(r => r.At));
        });

    [Fact]
    public void Read_twice_gives_the_same_twice() =>
        Gen.Int[0, int.MaxValue].Sample(
            seed =>
            {
                byte[] payload = FuzzCbor.Write(FuzzTree.Parse(Written([("temperature", seed % 80, 0)])), new Random(seed));
                PayloadResult first = Heard.Read(payload, Quantity.Temperature), second = Heard.Read(payload, Quantity.Temperature);
                Assert.Equal((first.Rejection, first.LeftOut), (second.Rejection, second.LeftOut));
                Assert.Equal(first.Readings.ToArray(), second.Readings.ToArray());
            },
            iter: 200);

    private static string Text(Reading reading) => $"{reading.Series} {reading.Value} {reading.At} {reading.Marks}";

    private static string Written((string Name, double Value, int Time)[] pack) => "[" + string.Join(',', pack.Select(r =>
        FormattableString.Invariant($"{{\"n\":\"{r.Name}\",\"t\":{r.Time},\"v\":{r.Value}}}"))) + "]";
}
