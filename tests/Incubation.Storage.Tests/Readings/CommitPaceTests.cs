using Incubation.Core;
using Incubation.Storage.Readings;
using Xunit;

namespace Incubation.Storage.Tests.Readings;

public sealed class CommitPaceTests
{
    [Fact]
    public void Wait_fifty_probes_every_ten_seconds_make_about_one_commit_a_second()
    {
        CommitPace pace = new();
        List<PendingCommit> waiting = [];
        int commits = 0;
        long longest = 0, first = 0;

        // 5 readings a second, 200 ms apart, each probe every 10 s, for an hour.
        for (long now = 0; now < 3_600_000; now++)
        {
            if (now % 200 == 0)
            {
                first = waiting.Count == 0 ? now : first;
                waiting.Add(One($"p{now / 200 % 50}"));
            }

            if (waiting.Count > 0 && pace.Wait(now, waiting, waiting.Count) == 0)
            {
                longest = Math.Max(longest, now - first);
                pace.Committed(now, waiting, waiting.Count);
                waiting.Clear();
                commits++;
            }
        }

        Assert.InRange(commits, 3_600, 3_600 + 2 * Limits.CommitsInStock);
        Assert.InRange(longest, 500, Limits.CommitWindowMs);
    }

    [Fact]
    public void Wait_after_a_quiet_time_a_burst_is_committed_one_by_one_until_the_stock_is_used_up()
    {
        CommitPace pace = new();

        int atOnce = 0;
        while (pace.Wait(1_000_000, [One($"p{atOnce}")], 1) == 0)
        {
            pace.Committed(1_000_000, [One($"p{atOnce++}")], 1);
        }

        Assert.Equal(Limits.CommitsInStock, atOnce);
    }

    [Fact]
    public void Wait_sender_that_waits_for_each_acknowledgement_never_waits_for_company()
    {
        CommitPace pace = Emptied(5_000);

        for (int i = 0; i < 500; i++)
        {
            Assert.Equal(0, pace.Wait(5_020 + i * 20, [One("last")], 1));
            pace.Committed(5_020 + i * 20, [One("last")], 1);
        }

        Assert.True(pace.Wait(15_020, [One("another")], 1) > 0);
    }

    [Fact]
    public void Wait_many_readings_are_committed_at_once()
    {
        CommitPace pace = Emptied(5_000);
        List<PendingCommit> many = [.. Enumerable.Range(0, Limits.CommitAtOnce).Select(i => One($"m{i}"))];

        Assert.True(pace.Wait(5_000, many[1..], many.Count - 1) > 0);
        Assert.Equal(0, pace.Wait(5_000, many, many.Count));
    }

    private static CommitPace Emptied(long now)
    {
        CommitPace pace = new();
        for (int i = 0; i <= Limits.CommitsInStock; i++)
        {
            pace.Wait(now, [One("last")], 1);
            pace.Committed(now, [One("last")], 1);
        }

        return pace;
    }

    private static PendingCommit One(string probe) => new(new[] { Some.Reading(probe: probe) });
}
