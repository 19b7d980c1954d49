using Incubation.Core;
using Incubation.Core.Readings;
using Incubation.Storage.Readings;
using Xunit;

namespace Incubation.Storage.Tests.Readings;

public sealed class CommitPaceTests
{
    [Theory]
    [InlineData(50)]
    [InlineData(1)]
    public void Wait_fifty_probes_every_ten_seconds_make_about_one_commit_a_second_on_connections_of_their_own_or_by_one_gateway(int connections)
    {
        Run run = new();
        ReadingSender[] senders = [.. Enumerable.Range(0, connections).Select(_ => new ReadingSender())];

        // 5 readings a second, 200 ms apart, each probe every 10 s, for an hour.
        run.Until(3_600_000, now => now % 200 == 0 ? senders[now / 200 % connections] : null);

        Assert.InRange(run.Commits, 3_000, 3_600 + 2 * Limits.CommitsInStock);
        Assert.InRange(run.Longest, 500, Limits.CommitWindowMs);
    }

    [Fact]
    public void Wait_gateway_that_sends_its_next_when_it_is_answered_is_hardly_held()
    {
        Run run = new();
        ReadingSender other = new(), gateway = new();
        long next = 0, behind = 0;

        // 20 readings are due each second; one is sent 3 ms after the answer to the last. Another probe uses up what is in stock.
        run.Until(600_000, now =>
        {
            bool answered = !run.Waiting.Any(pending => pending.Sender == gateway);
            if (answered && now >= run.CommittedAt + 3 && now >= next)
            {
                behind = now > 300_000 ? Math.Max(behind, now - next) : 0;
                next += 50;
                return gateway;
            }

            return now % 100 == 1 ? other : null;
        });

        Assert.InRange(behind, 0, 200);
    }

    [Fact]
    public void Wait_after_a_quiet_time_a_burst_is_committed_one_by_one_until_the_stock_is_used_up()
    {
        CommitPace pace = new();

        int atOnce = 0;
        while (pace.Wait(1_000_000, [One(ReadingSender.NeverAnswered)], 1) == 0)
        {
            pace.Answered(1_000_000, [One(ReadingSender.NeverAnswered)]);
            atOnce++;
        }

        Assert.Equal(Limits.CommitsInStock, atOnce);
    }

    [Fact]
    public void Wait_caller_that_waits_itself_never_waits_for_company()
    {
        CommitPace pace = Emptied(5_000);

        Assert.Equal(0, pace.Wait(5_000, [One(ReadingSender.NeverAnswered), One(null)], 2));
        Assert.True(pace.Wait(5_000, [One(ReadingSender.NeverAnswered)], 1) > 0);
    }

    [Fact]
    public void Wait_many_readings_are_committed_at_once()
    {
        CommitPace pace = Emptied(5_000);
        List<PendingCommit> many = [.. Enumerable.Range(0, Limits.CommitAtOnce).Select(_ => One(ReadingSender.NeverAnswered))];

        Assert.True(pace.Wait(5_000, many[1..], many.Count - 1) > 0);
        Assert.Equal(0, pace.Wait(5_000, many, many.Count));
    }

    private static CommitPace Emptied(long now)
    {
        CommitPace pace = new();
        for (int i = 0; i <= Limits.CommitsInStock; i++)
        {
            pace.Wait(now, [One(null)], 1);
            pace.Answered(now, [One(null)]);
        }

        return pace;
    }

    private static PendingCommit One(ReadingSender? sender) => new(new[] { Some.Reading() }, sender: sender);

    /// <summary>The writer's loop on a clock of whole milliseconds, without a disk.</summary>
    private sealed class Run
    {
        private readonly CommitPace _pace = new();
        private long _first;

        public List<PendingCommit> Waiting { get; } = [];

        public int Commits { get; private set; }

        public long Longest { get; private set; }

        public long CommittedAt { get; private set; }

        public void Until(long end, Func<long, ReadingSender?> comes)
        {
            for (long now = 0; now < end; now++)
            {
                if (comes(now) is { } sender)
                {
                    _first = Waiting.Count == 0 ? now : _first;
                    Waiting.Add(One(sender));
                    CommitPace.Arrived(now, Waiting[^1]);
                }

                if (Waiting.Count > 0 && _pace.Wait(now, Waiting, Waiting.Count) == 0)
                {
                    Longest = Math.Max(Longest, now - _first);
                    _pace.Answered(now, Waiting);
                    Waiting.Clear();
                    Commits++;
                    CommittedAt = now;
                }
            }
        }
    }
}
