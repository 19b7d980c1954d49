using System.Diagnostics;
using System.Globalization;
using CsCheck;
using Incubation.Core.Readings;
using Incubation.Storage.Readings.Spool;
using Xunit;

namespace Incubation.Storage.Tests.Readings.Spool;

/// <summary>The spool file alone: what was synced is read back whatever the power cut left of the rest, and nothing is invented.</summary>
public sealed class SpoolFileTests
{
    private static readonly Gen<double> Values = Gen.OneOf(
        Gen.Int[-400_000, 1_050_000].Select(n => n / 10_000.0), Gen.Int[-400, 1050].Select(n => n / 10.0),
        Gen.Double.Where(double.IsFinite), OneOf(0.0, -0.0, double.Epsilon, double.MaxValue, -127, 1e15, 31.4000000000000021));

    private static readonly Gen<Reading> Readings = Gen.Select(
        Gen.Long[-2_000_000_000, 2_000_000_000], Values, OneOf("hazel-air", "p", "Bœuf/ß🥚", "other"), Gen.Int[0, 31], Gen.Long[-400_000, 3_000_000_000],
        (at, value, probe, marks, late) => new Reading(
            Some.Series(probe), value, Some.At(at), Some.At(at + late), (ReadingMarks)marks));

    private static readonly Gen<Reading[][]> Batches = Readings.Array[1, 12].Array[1, 8];

    private enum After { Zeros, Noise, Former }

    [Fact]
    public void Take_gives_every_reading_bit_for_bit_and_in_order()
        => Batches.Sample(
            batches =>
            {
                using TemporarySpool it = new();
                foreach (Reading[] batch in batches)
                {
                    Assert.True(it.Add(batch));
                }

                it.Reopen();
                HoldSame(batches.SelectMany(b => b), it.TakeAll());
                Assert.True(it.File.IsEmpty);
            },
            iter: 100);

    [Fact]
    public void A_cut_at_any_byte_keeps_what_was_synced_before_it_and_invents_nothing()
        => Gen.Select(Batches, Batches, Gen.Double[0, 1], Gen.Enum<After>(), Gen.Byte.Array[64]).Sample(
            (former, batches, where, after, noise) =>
            {
                using TemporarySpool it = new();
                // A former filling lies underneath, as on a file that has been in use.
                foreach (Reading[] batch in former)
                {
                    it.Add(batch);
                }

                it.TakeAll();
                it.File.Clear();
                it.Reopen();
                byte[] underneath = File.ReadAllBytes(it.Path);
                List<long> ends = [];
                foreach (Reading[] batch in batches)
                {
                    it.Add(batch);
                    ends.Add(SpoolHeader.Bytes + it.File.Used);
                }

                long cut = SpoolHeader.Bytes + (long)(where * (ends[^1] - SpoolHeader.Bytes));
                it.Reopen(bytes =>
                {
                    for (long at = cut; at < bytes.Length; at++)
                    {
                        bytes[at] = after switch { After.Zeros => 0, After.Noise => noise[at % noise.Length], _ => underneath[at] };
                    }
                });

                int whole = ends.Count(end => end <= cut);
                IReadOnlyList<Reading> taken = it.TakeAll();
                // What was being written when the power went may have come onto the disk whole all the same, where it equals what lay there.
                HoldSame(batches.Take(whole).SelectMany(b => b), taken.Take(batches.Take(whole).Sum(b => b.Length)));
                Assert.True(taken.Count <= batches.Sum(b => b.Length));
                HoldSame(batches.SelectMany(b => b).Take(taken.Count), taken);
                HoldUsable(it);
            },
            iter: 200);

    [Fact]
    public void One_damaged_byte_is_noticed_and_ends_what_can_be_trusted()
        => Gen.Select(Batches, Gen.Double[0, 0.999999], Gen.Int[1, 255]).Sample(
            (batches, where, flip) =>
            {
                using TemporarySpool it = new();
                List<long> ends = [];
                foreach (Reading[] batch in batches)
                {
                    it.Add(batch);
                    ends.Add(SpoolHeader.Bytes + it.File.Used);
                }

                long hit = SpoolHeader.Bytes + (long)(where * (ends[^1] - SpoolHeader.Bytes));
                it.Reopen(bytes => bytes[hit] ^= (byte)flip);
                HoldSame(batches.Take(ends.Count(end => end <= hit)).SelectMany(b => b), it.TakeAll());
            },
            iter: 200);

    [Fact]
    public void What_a_failed_writing_left_behind_is_not_read_as_the_sequel_of_a_later_one()
    {
        using TemporarySpool it = new();
        it.Add(Some.Reading(1));
        byte[] before = File.ReadAllBytes(it.Path);
        it.Add(Some.Reading(2, probe: "aaaa"));
        it.Add(Some.Reading(3, probe: "aaaa"));
        byte[] failed = File.ReadAllBytes(it.Path);
        it.Reopen(bytes => before.CopyTo(bytes, 0));
        it.Add(Some.Reading(2, probe: "bbbb"));
        long end = SpoolHeader.Bytes + it.File.Used;
        it.Reopen(bytes => failed.AsSpan((int)end).CopyTo(bytes.AsSpan((int)end)));

        HoldSame([Some.Reading(1), Some.Reading(2, probe: "bbbb")], it.TakeAll());
    }

    [Fact]
    public void Clear_forgets_what_was_taken_also_for_who_opens_the_file_later()
    {
        using TemporarySpool it = new();
        it.Add(Some.Reading(1), Some.Reading(2, probe: "other"));
        it.TakeAll();
        it.File.Clear();
        it.Reopen();
        Assert.True(it.File.IsEmpty);
        it.Add(Some.Reading(3, probe: "other"));
        it.Reopen();
        HoldSame([Some.Reading(3, probe: "other")], it.TakeAll());
    }

    [Fact]
    public void A_begin_anew_that_was_torn_leaves_the_file_as_it_was()
    {
        using TemporarySpool it = new();
        it.Add(Some.Reading(1));
        byte[] before = File.ReadAllBytes(it.Path);
        it.TakeAll();
        it.File.Clear();
        byte[] after = File.ReadAllBytes(it.Path);
        int place = Enumerable.Range(0, SpoolHeader.Bytes).First(i => before[i] != after[i]);
        it.Reopen(bytes => bytes.AsSpan(place, 10).Fill(0xEE));

        HoldSame([Some.Reading(1)], it.TakeAll());
    }

    [Fact]
    public void Skip_passes_over_what_the_database_has_already()
    {
        using TemporarySpool it = new();
        it.Add(Some.Reading(1));
        it.Add(Some.Reading(2));
        List<Reading> first = [];
        it.File.Take(1, first);
        long caughtUp = it.File.Taken;
        it.Add(Some.Reading(3));
        it.Reopen();
        it.File.Skip(caughtUp);
        HoldSame([Some.Reading(2), Some.Reading(3)], it.TakeAll());
    }

    [Fact]
    public void Add_says_no_when_full_and_keeps_what_it_has()
    {
        using TemporarySpool it = new();
        List<Reading> kept = [];
        Reading[] part = [.. Enumerable.Range(0, 500).Select(i => Some.Reading(i * 977, i / 7.0))];
        while (it.Add(part))
        {
            kept.AddRange(part);
        }

        Assert.True(it.File.Used > TemporarySpool.Bytes / 2);
        // A big batch of a new series did not fit: a small one of yet another does, and is not mixed up with it.
        Assert.False(it.Add([.. part.Select(r => r with { Series = Some.Series("too much") })]));
        Assert.True(it.Add(Some.Reading(1, probe: "small")));
        it.Reopen();
        HoldSame([.. kept, Some.Reading(1, probe: "small")], it.TakeAll());
    }

    [Fact]
    public void A_day_of_fifty_probes_takes_less_than_eight_megabytes()
    {
        const int Seconds = 500;
        using TemporarySpool it = new(256 * 1024);
        // Five probes a second, each every ten seconds, a commit each second: the least favourable load, since each frame has its header.
        for (int second = 0; second < Seconds; second++)
        {
            Assert.True(it.Add([.. Enumerable.Range(0, 5).Select(i => Some.Reading(
                second * 1_000 + i * 177, 31 + (second + i) % 97 / 100.0,
                string.Create(CultureInfo.InvariantCulture, $"probe-{(second * 5 + i) % 50:00}")))]));
        }

        Assert.InRange(86_400.0 / Seconds * it.File.Used, 1, 8e6);
    }

    [Fact]
    public async Task The_file_has_all_of_its_room_from_the_start()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "The room that a file takes is asked of stat.");
        using TemporarySpool it = new(4 * 1024 * 1024);
        ProcessStartInfo stat = new("stat", ["-c", "%b %B", it.Path]) { RedirectStandardOutput = true };
        using Process process = Process.Start(stat)!;
        string[] said = (await process.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken)).Split(' ');
        Assert.True(long.Parse(said[0], CultureInfo.InvariantCulture) * long.Parse(said[1], CultureInfo.InvariantCulture) >= 4 * 1024 * 1024);
    }

    [Fact]
    public void A_file_that_is_not_ours_is_kept_beside_and_a_new_one_made()
    {
        using TemporarySpool it = new();
        it.Add(Some.Reading(1));
        it.Reopen(bytes => bytes.AsSpan(0, SpoolHeader.Bytes).Fill(7));
        Assert.True(it.File.IsEmpty);
        Assert.True(it.Add(Some.Reading(2)));
        Assert.True(File.Exists(it.Path + ".unreadable"));
    }

    [Fact]
    public void Another_size_is_taken_once_the_file_is_empty()
    {
        using TemporarySpool it = new();
        it.Add(Some.Reading(1));
        it.File.Dispose();
        using (SpoolFile same = SpoolFile.Open(it.Path, 2 * TemporarySpool.Bytes))
        {
            Assert.Equal(TemporarySpool.Bytes, same.Bytes);
            same.Take(1, []);
            same.Clear();
        }

        using SpoolFile larger = SpoolFile.Open(it.Path, 2 * TemporarySpool.Bytes);
        Assert.Equal(2 * TemporarySpool.Bytes, larger.Bytes);
    }

    private static Gen<T> OneOf<T>(params T[] values) => Gen.Int[0, values.Length - 1].Select(i => values[i]);

    private static void HoldUsable(TemporarySpool it)
    {
        it.File.Clear();
        it.Add(Some.Reading(5));
        it.Reopen();
        HoldSame([Some.Reading(5)], it.TakeAll());
    }

    // Bit for bit: NaN aside, which no reading holds, equality of doubles takes the two zeros for one.
    private static void HoldSame(IEnumerable<Reading> expected, IEnumerable<Reading> got)
        => Assert.Equal(expected.Select(r => (r, BitConverter.DoubleToInt64Bits(r.Value))), got.Select(r => (r, BitConverter.DoubleToInt64Bits(r.Value))));
}
