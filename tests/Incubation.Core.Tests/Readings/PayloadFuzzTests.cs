using System.Globalization;
using System.Text;
using CsCheck;
using Incubation.Core.Readings;
using NodaTime;
using Xunit;

namespace Incubation.Core.Tests.Readings;

/// <summary>Payloads that look like payloads, with things wrong in them. A fixed seed: a failure is the same on every machine.</summary>
public sealed class PayloadFuzzTests
{
    private const int Payloads = 20_000;

    private static readonly Instant Arrived = Instant.FromUtc(2026, 11, 25, 3, 4, 10);

    private static readonly string[] Numbers =
        ["31.4", "31.4", "30", "-1", "85", "-127", "100.5", "0", "-0", "1e1", "1E+1", "400", "1e400", "-1e999", "NaN", "31,4", "+3", ".5", "5.", "00", "\"31\"", "null", "\u0663"];

    private static readonly string[] UnitTexts = ["\"Cel\"", "\"Cel\"", "\"degF\"", "\"[degF]\"", "\"K\"", "\"%RH\"", "\"\"", "null", "7", "\"\\u0043el\"", "\"\\uD83D\""];

    private static readonly string[] Times =
        ["\"2026-11-25T03:04:05Z\"", "\"2026-11-25T03:04:05.25+01:00\"", "\"1970-01-01T00:00:00Z\"", "\"9999-12-31T23:59:60Z\"", "\"0001-01-01T00:00:00+23:59\"", "\"\"", "null", "12", "\"2026-99-99T99:99:99Z\""];

    [Fact]
    public void Read_thousands_of_half_right_payloads_never_throws_keeps_its_promises_and_reads_a_good_share()
    {
        Random random = new(20_261_125);
        int read = 0;
        HashSet<string> reasons = [];
        for (int i = 0; i < Payloads; i++)
        {
            byte[] payload = Next(random);
            PayloadResult result = PayloadReader.Read(payload, Pick(random, [Quantity.Temperature, Quantity.Humidity]), "p", Arrived, PayloadFields.Default, null);
            Assert.True(Holds(result), $"{Convert.ToHexString(payload)} {Encoding.UTF8.GetString(payload)}");
            read += result.Rejection is null ? 1 : 0;
            reasons.Add(result.Rejection ?? "");
        }

        Assert.InRange(read, Payloads / 5, Payloads * 4 / 5);
        Assert.True(reasons.Count >= 15, $"only {reasons.Count} kinds of outcome were reached");
    }

    [Fact]
    public void Read_any_bytes_at_all_never_throws() =>
        Gen.Byte.Array[0, 200].Sample(payload =>
            Assert.True(Holds(PayloadReader.Read(payload, Quantity.Temperature, "p", Arrived, PayloadFields.Default, null))));

    [Fact]
    public void Read_any_good_value_written_out_comes_back_exactly() =>
        Gen.Double[-40, 80].Sample(value =>
        {
            string text = value.ToString("R", CultureInfo.InvariantCulture);
            Assert.Equal(value, One(text));
            Assert.Equal(value, One($"{{\"value\":{text}}}"));
        });

    private static double One(string payload) => PayloadReader.Read(
        Encoding.UTF8.GetBytes(payload), Quantity.Temperature, "p", Arrived, PayloadFields.Default, null).Readings.Span[0].Value;

    private static bool Holds(PayloadResult result)
    {
        if (result.Rejection is not null)
        {
            return result.Readings.IsEmpty && result.Memory is null && result.Rejection.Length is > 20 and < 200;
        }

        Reading reading = result.Readings.Span[0];
        return result.Readings.Length == 1 && double.IsFinite(reading.Value) && reading.Value is >= -127.1 and <= 105
            && reading.ArrivedAt == Arrived && reading.At <= Arrived + ProbeClock.Ahead && reading.At >= Arrived - ProbeClock.Behind
            && (result.Memory is not null) == reading.IsGood;
    }

    private static byte[] Next(Random random)
    {
        string text = random.Next(4) == 0 ? Pick(random, Numbers) : ObjectText(random);
        List<byte> bytes = [.. Encoding.UTF8.GetBytes(text)];
        for (int damage = random.Next(10) < 4 ? random.Next(1, 3) : 0; damage > 0 && bytes.Count > 0; damage--)
        {
            Damage(random, bytes);
        }

        return [.. bytes];
    }

    private static string ObjectText(Random random)
    {
        List<string> fields = [$"\"value\":{Pick(random, Numbers)}"];
        AddSometimes(random, fields, $"\"unit\":{Pick(random, UnitTexts)}", 2);
        AddSometimes(random, fields, $"\"at\":{Pick(random, Times)}", 2);
        AddSometimes(random, fields, "\"more\":{\"deep\":[1,{\"er\":\"\\n\"}]}", 4);
        AddSometimes(random, fields, $"\"value\":{Pick(random, Numbers)}", 12);
        return "{" + string.Join(',', fields.OrderBy(_ => random.Next())) + "}";
    }

    private static void AddSometimes(Random random, List<string> fields, string field, int oneIn)
    {
        if (random.Next(oneIn) == 0)
        {
            fields.Add(field);
        }
    }

    private static void Damage(Random random, List<byte> bytes)
    {
        int at = random.Next(bytes.Count);
        switch (random.Next(5))
        {
            case 0:
                bytes[at] = (byte)random.Next(256);
                break;
            case 1:
                bytes.RemoveAt(at);
                break;
            case 2:
                bytes.Insert(at, Pick(random, "{}[]\",:0 \\"u8.ToArray()));
                break;
            case 3:
                bytes.RemoveRange(at, bytes.Count - at);
                break;
            default:
                bytes.AddRange(bytes.GetRange(at, bytes.Count - at));
                break;
        }
    }

    private static T Pick<T>(Random random, T[] from) => from[random.Next(from.Length)];
}
