using System.Diagnostics;
using Incubation.Core.Readings;
using Incubation.Storage.Readings.Spool;
using Xunit;

namespace Incubation.Storage.Tests.Readings.Spool;

/// <summary>A database that takes nothing for a while: readings are acknowledged all the same, and are all there once, afterwards.</summary>
public sealed class SpoolingTests
{
    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task StoreAsync_while_another_program_holds_the_file_is_kept_in_the_spool_and_caught_up_afterwards()
    {
        await using SpoolingStore it = new();
        await it.StoreAsync(Some.Reading(0));
        Assert.Equal(StoreKind.Well, it.State.Kind);
        List<StoreKind> seen = [];
        it.Store.StateChanged += () => seen.Add(it.State.Kind);
        using (it.Hold())
        {
            await it.StoreAsync(Some.Reading(1), Some.Reading(2, marks: ReadingMarks.Faulty));
            await it.StoreAsync(Some.Reading(2, value: 99), Some.Reading(0, value: 98));
            Assert.Equal(StoreKind.Spooling, it.State.Kind);
            Assert.Contains("Another program", it.State.Words, StringComparison.Ordinal);
            Assert.Contains("spool file", it.State.Words, StringComparison.Ordinal);
            Assert.InRange(it.State.SpoolUsedBytes, 1, 200);
            Assert.Single(it.Read());
        }

        await it.WellAsync();
        Assert.Equal([Some.Reading(0), Some.Reading(1), Some.Reading(2, marks: ReadingMarks.Faulty)], it.Read());
        Assert.Equal(0, it.State.SpoolUsedBytes);
        Assert.Equal([StoreKind.Spooling, StoreKind.Well], seen);
        Assert.Empty(it.WrongRollups());
    }

    [Fact]
    public async Task What_waits_when_the_service_stops_is_caught_up_at_the_next_start()
    {
        await using SpoolingStore it = new();
        using (it.Hold())
        {
            await it.StoreAsync(Some.Reading(1), Some.Reading(1, marks: ReadingMarks.ArrivalTime));
            await it.Store.DisposeAsync();
        }

        it.Open();
        Assert.Equal(StoreKind.Well, it.State.Kind);
        Assert.Equal(2, it.Read().Count);
    }

    [Fact]
    public async Task A_crash_after_the_database_took_it_and_before_the_spool_was_emptied_counts_nothing_twice()
    {
        await using SpoolingStore it = new();
        Reading[] arrivals = [.. Enumerable.Range(0, 30).Select(i => Some.Reading(5, i, marks: ReadingMarks.ArrivalTime))];
        byte[] spool;
        using (it.Hold())
        {
            await it.StoreAsync(arrivals);
            spool = await File.ReadAllBytesAsync(it.SpoolPath, Token);
        }

        await it.WellAsync();
        await it.Store.DisposeAsync();
        await File.WriteAllBytesAsync(it.SpoolPath, spool, Token);
        it.Open();

        Assert.Equal(arrivals.Select(r => r.Value), it.Read().Select(r => r.Value));
        Assert.Equal(StoreKind.Well, it.State.Kind);
        using (it.Hold())
        {
            await it.StoreAsync(Some.Reading(1_000));
        }

        await it.WellAsync();
        Assert.Equal(31, it.Read().Count);
    }

    [Fact]
    public async Task Copies_of_the_files_at_any_moment_of_spooling_and_catching_up_hold_every_acknowledged_reading_once()
    {
        await using SpoolingStore it = new();
        List<long> acknowledged = [];
        using CancellationTokenSource done = CancellationTokenSource.CreateLinkedTokenSource(Token);
        Task sending = Task.Run(async () =>
        {
            for (long at = 0; !done.IsCancellationRequested; at += 3)
            {
                // One with a time of its own, and two that share their arrival, which nothing but the note keeps from being stored twice.
                await it.StoreAsync(
                    Some.Reading(at), Some.Reading(at, probe: "arrivals", marks: ReadingMarks.ArrivalTime),
                    Some.Reading(at, probe: "arrivals", marks: ReadingMarks.ArrivalTime));
                lock (acknowledged)
                {
                    acknowledged.Add(at);
                }
            }
        }, Token);
        Random chance = new(4711);
        for (int round = 0; round < 12; round++)
        {
            int least = acknowledged.Count + 20;
            using (round % 3 == 0 ? null : it.Hold())
            {
                await SpoolingStore.UntilAsync(() => acknowledged.Count > least);
                await HoldCrashedAsync(it, acknowledged);
            }

            if (chance.Next(2) == 0)
            {
                await it.WellAsync();
            }
        }

        await done.CancelAsync();
        await sending;
        await it.WellAsync();
        Assert.Equal(acknowledged.Count, it.Read().Count);
        Assert.Equal(2 * acknowledged.Count, it.Read("arrivals").Count);
        Assert.Empty(it.WrongRollups());
    }

    [Fact]
    public async Task A_spool_that_is_full_refuses_with_both_causes_and_goes_on_when_the_database_does()
    {
        await using SpoolingStore it = new(spoolBytes: 16 * 1024);
        int kept = 0;
        using (it.Hold())
        {
            StoreUnavailableException? refused = null;
            for (; refused is null; kept += refused is null ? 100 : 0)
            {
                Reading[] part = [.. Enumerable.Range(0, 100).Select(i => Some.Reading((kept + i) * 10_007L, (kept + i) / 3.0))];
                refused = await Record.ExceptionAsync(() => it.StoreAsync(part)) as StoreUnavailableException;
            }

            Assert.Contains("Another program", refused.Message, StringComparison.Ordinal);
            Assert.Contains("spool file is full", refused.Message, StringComparison.Ordinal);
            Assert.Equal(StoreKind.Refusing, it.State.Kind);
            Assert.True(kept >= 300);
        }

        await it.WellAsync();
        Assert.Equal(kept, it.Read().Count);
        await it.StoreAsync(Some.Reading(-1));
        Assert.Equal(kept + 1, it.Read().Count);
    }

    [Fact]
    public async Task Sealing_between_spooling_and_catching_up_keeps_everything_once()
    {
        const long Day = 86_400_000;
        await using SpoolingStore it = new();
        Random chance = new(4712);
        HashSet<long> sent = [];
        for (int round = 0; round < 6; round++)
        {
            using (it.Hold())
            {
                // Days that are sealed already get late readings too, and every tenth is sent again.
                Reading[] part = [.. Enumerable.Range(0, 300).Select(_ => Some.Reading(chance.NextInt64(5 * Day / 1_000) * 1_000))];
                await it.StoreAsync(part);
                await it.StoreAsync(part[..30]);
                sent.UnionWith(part.Select(r => (r.At - Some.At(0)).BclCompatibleTicks / TimeSpan.TicksPerMillisecond));
            }

            await it.WellAsync();
            await it.Store.SealAsync(Some.At((round + 1) * Day), Token);
            Assert.Equal(sent.Order().Select(at => Some.Reading(at)), it.Read());
        }

        await it.Store.DisposeAsync();
        it.Open();
        Assert.Equal(sent.Order().Select(at => Some.Reading(at)), it.Read());
    }

    [Fact]
    public async Task A_reading_that_the_database_refuses_for_what_it_is_fails_its_caller_and_is_not_spooled()
    {
        await using SpoolingStore it = new();
        it.Change("CREATE TRIGGER broken BEFORE INSERT ON reading WHEN new.value = 66 BEGIN SELECT raise(FAIL, 'not this one'); END");
        await Assert.ThrowsAsync<StoreUnavailableException>(() => it.StoreAsync(Some.Reading(1, 66)));
        await it.StoreAsync(Some.Reading(2));
        Assert.Single(it.Read());
        Assert.Equal(StoreKind.Well, it.State.Kind);
    }

    [Fact]
    public async Task Without_room_for_a_spool_the_store_works_and_says_so_only_when_it_is_needed()
    {
        await using SpoolingStore it = new(spoolBytes: 1L << 50);
        await it.StoreAsync(Some.Reading(1));
        Assert.Equal((StoreKind.Well, 0L), (it.State.Kind, it.State.SpoolBytes));
        using (it.Hold())
        {
            StoreUnavailableException refused = await Assert.ThrowsAsync<StoreUnavailableException>(() => it.StoreAsync(Some.Reading(2)));
            Assert.Contains("could not be made", refused.Message, StringComparison.Ordinal);
        }

        await it.StoreAsync(Some.Reading(3));
        Assert.Equal(StoreKind.Well, it.State.Kind);
    }

    [Fact]
    public async Task On_a_full_disk_first_the_reserve_and_then_the_spool_take_what_is_acknowledged()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux() && Environment.IsPrivilegedProcess, "Mounting a small disk needs root on Linux.");
        DirectoryInfo disk = Directory.CreateTempSubdirectory("incubation-small-disk-");
        Assert.SkipUnless(await RunAsync("mount", "-t", "tmpfs", "-o", "size=14m", "tmpfs", disk.FullName) == 0, "This machine doesn't allow mounting.");
        try
        {
            string ballast = Path.Combine(disk.FullName, "ballast");
            await File.WriteAllBytesAsync(ballast, new byte[9_000_000], Token);
            DiskReserve reserve = new(Path.Combine(disk.FullName, "disk.reserve"), 1024 * 1024);
            await using SpoolingStore it = new(disk, spoolBytes: 256 * 1024, reserve: reserve);
            Assert.True(reserve.Held);
            int acknowledged = 0;
            StoreUnavailableException? refused = null;
            bool reserveWasUsed = false, spoolWasUsed = false;
            for (; refused is null; acknowledged += refused is null ? 500 : 0)
            {
                Reading[] part = [.. Enumerable.Range(0, 500).Select(i => Some.Reading((acknowledged + i) * 1_000L))];
                refused = await Record.ExceptionAsync(() => it.StoreAsync(part)) as StoreUnavailableException;
                reserveWasUsed |= !reserve.Held && it.State.Kind == StoreKind.Well;
                spoolWasUsed |= it.State.Kind == StoreKind.Spooling;
            }

            Assert.True(reserveWasUsed, "The reserve was not given up.");
            Assert.True(spoolWasUsed, "The spool was not used.");
            Assert.Contains("spool file is full", refused.Message, StringComparison.Ordinal);
            Assert.True(it.State.DiskNearlyFull);

            File.Delete(ballast);
            await it.WellAsync();
            Assert.Equal(acknowledged, it.Read().Count);
            Assert.Empty(it.WrongRollups());
        }
        finally
        {
            await RunAsync("umount", disk.FullName);
            disk.Delete();
        }
    }

    private static async Task HoldCrashedAsync(SpoolingStore it, List<long> acknowledged)
    {
        long[] before;
        lock (acknowledged)
        {
            before = [.. acknowledged];
        }

        // The spool before the database: between the two copies readings may move into the database, never out of it.
        DirectoryInfo crashed = it.Copy();
        await using SpoolingStore again = new(crashed);
        HashSet<long> there = [.. again.Read().Select(r => (r.At - Some.At(0)).ToTimeSpan().Ticks / TimeSpan.TicksPerMillisecond)];
        Assert.Subset(there, before.ToHashSet());
        Assert.Equal(2 * there.Count, again.Read("arrivals").Count);
        Assert.Empty(again.WrongRollups());
        await again.DisposeAsync();
        crashed.Delete(recursive: true);
    }

    private static async Task<int> RunAsync(string command, params string[] arguments)
    {
        using Process process = Process.Start(new ProcessStartInfo(command, arguments) { RedirectStandardError = true })!;
        await process.WaitForExitAsync(CancellationToken.None);
        return process.ExitCode;
    }
}
