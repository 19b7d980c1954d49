using CsCheck;
using Incubation.Core.Readings;
using Incubation.Storage.Readings;
using Incubation.Storage.Readings.Rollups;
using Incubation.Storage.Readings.Sealed;
using Xunit;

namespace Incubation.Storage.Tests.Readings.Sealed;

public sealed class DayColumnsTests
{
    private const long Day = 20_605 * Spans.Day;

    private static readonly Gen<double> AnyValue = Gen.OneOf(
        Gen.Int[-4_000, 13_000].Select(i => i / 100d),
        Gen.Int[-400, 1_300].Select(i => i * 0.0625),
        Gen.Int[0, 2_000].Select(i => (i / 10d - 32) / 1.8),
        Gen.Double.Where(double.IsFinite),
        Gen.Int[0, 7].Select(i => new[] { 0d, -0d, double.Epsilon, double.MaxValue, double.MinValue, 1e22, 0.1 + 0.2, long.MaxValue }[i]));

    private static readonly Gen<StoredRow[]> AnyDay =
        from kind in Gen.OneOf(Gen.Const(AnyValue), Gen.Const(Gen.Int[2_500, 3_500].Select(i => i / 100d)), Gen.Const(AnyValue.Select(v => Math.Round(v, 3))))
        from times in Gen.OneOf(
            Gen.Int[0, (int)Spans.Day - 1].ArrayUnique[1, 700],
            Gen.Select(Gen.Int[1, 3_000], Gen.Int[0, 40].Array[3_000]).Select((n, jitter) => jitter.Take(n).Select((j, i) => i * 10_000 + j).ToArray()))
        from values in kind.Array[times.Length]
        from delays in Gen.OneOf(Gen.Long[0, 40], Gen.Long[-90_000_000, 90_000_000]).Array[times.Length]
        from marks in Gen.OneOf(Gen.Const(0), Gen.Int[0, 31]).Array[times.Length]
        select times.Order().Select((t, i) => new StoredRow(Day + t, values[i], Day + t + delays[i], (ReadingMarks)marks[i])).ToArray();

    [Fact]
    public void Rows_gives_back_every_bit_of_any_day() =>
        AnyDay.Sample(
            rows =>
            {
                StoredRow[] back = new SealedReadings(DayColumns.Pack(rows).Readings).Rows();

                Assert.Equal(rows, back);
                Assert.Equal(rows.Select(r => BitConverter.DoubleToInt64Bits(r.Value)), back.Select(r => BitConverter.DoubleToInt64Bits(r.Value)));
            },
            iter: 300);

    [Fact]
    public void Good_hands_over_what_lies_between_two_times_and_nothing_else() =>
        Gen.Select(AnyDay, Gen.Int[-1_000, (int)Spans.Day + 1_000], Gen.Int[0, 20_000_000]).Sample(
            (rows, from, length) =>
            {
                List<(long, double)> got = [];
                new SealedReadings(DayColumns.Pack(rows).Readings).Good(Day + from, Day + from + length, new BlockScratch(), (times, values) =>
                {
                    for (int i = 0; i < times.Length; i++)
                    {
                        got.Add((times[i], values[i]));
                    }
                });

                Assert.Equal(
                    rows.Where(r => (r.Marks & Spans.NotGood) == 0 && r.At >= Day + from && r.At < Day + from + length).Select(r => (r.At, r.Value)), got);
            },
            iter: 300);

    [Fact]
    public void Unpack_minutes_are_a_recount_of_any_day() =>
        AnyDay.Sample(
            rows =>
            {
                (byte[] readings, byte[] minutes) = DayColumns.Pack(rows);
                DayMinutes got = MinuteColumns.Unpack(Day, minutes, () => new SealedReadings(readings));

                var byHand = rows.Where(r => (r.Marks & Spans.NotGood) == 0).GroupBy(r => (short)((r.At - Day) / Spans.Minute), r => r.Value).ToArray();
                Assert.Equal(byHand.Select(m => m.Key), got.Minutes);
                Assert.Equal(byHand.Select(m => (long)m.Count()), got.Sums.Select(s => s.Count));
                Assert.Equal(byHand.Select(m => m.Min()), got.Sums.Select(s => s.Least));
                Assert.Equal(byHand.Select(m => m.Max()), got.Sums.Select(s => s.Greatest));
                Assert.All(byHand.Zip(got.Sums), m => Assert.Equal(m.First.Sum(), m.Second.Total, 1e-9 * (1 + m.First.Sum(Math.Abs))));
            },
            iter: 300);

    [Fact]
    public void Reading_a_damaged_blob_never_leaves_it_and_says_so_or_gives_numbers() =>
        Gen.Select(AnyDay, Gen.Select(Gen.Int[0, int.MaxValue], Gen.Byte).Array[1, 5], Gen.Int[0, 30]).Sample(
            (rows, flips, cut) =>
            {
                byte[] blob = DayColumns.Pack(rows).Readings;
                blob = blob[..Math.Max(0, blob.Length - cut)];
                foreach ((int place, byte flip) in flips)
                {
                    if (blob.Length > 0)
                    {
                        blob[place % blob.Length] ^= flip;
                    }
                }

                try
                {
                    new SealedReadings(blob).Rows();
                }
                catch (InvalidDataException)
                {
                    // Said so.
                }
            },
            iter: 500);
}
