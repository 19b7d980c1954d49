using Incubation.Core.Readings;
using Xunit;

namespace Incubation.Core.Tests.Readings;

public sealed class ReadingSenderTests
{
    [Fact]
    public void PatienceMs_of_a_sender_that_is_not_known_yet_is_none()
    {
        ReadingSender sender = new();

        sender.Arrived(1_000);

        Assert.Equal(0, sender.PatienceMs);
    }

    [Fact]
    public void PatienceMs_of_a_probe_with_a_rhythm_is_shorter_than_its_rhythm()
    {
        ReadingSender sender = new();

        for (long at = 0; at < 100_000; at += 10_000)
        {
            sender.Arrived(at);
            Assert.InRange(sender.PatienceMs, at == 0 ? 0 : 5_000, 9_999);
            sender.Answered(at + 1_000);
        }
    }

    [Fact]
    public void PatienceMs_of_a_gateway_that_waits_for_each_answer_never_adds_up()
    {
        ReadingSender sender = new();
        double held = 0;
        long now = 0;

        // Two hundred messages, each sent 5 ms after the last one's answer, every ten seconds.
        for (int round = 0; round < 20; round++, now += 8_000)
        {
            for (int message = 0; message < 200; message++)
            {
                sender.Arrived(now);
                double patience = Math.Min(1_000, sender.PatienceMs);
                held = round == 0 ? 0 : held + patience;
                now += (long)patience;
                sender.Answered(now);
                now += 5;
            }
        }

        Assert.InRange(held / 19 / 200, 0, 10);
    }

    [Fact]
    public void PatienceMs_of_one_that_goes_on_unanswered_has_no_end_until_it_may_have_reached_its_bound()
    {
        ReadingSender sender = new();
        sender.Arrived(0);
        sender.Arrived(40);

        Assert.Equal(double.MaxValue, sender.PatienceMs);
        for (int more = 2; more < ReadingSender.MostInFlight; more++)
        {
            sender.Arrived(40 * more);
        }

        Assert.Equal(0, sender.PatienceMs);
    }

    [Fact]
    public void PatienceMs_of_one_that_fell_silent_at_its_own_bound_is_none_there_from_then_on()
    {
        ReadingSender sender = new();
        sender.Arrived(0);
        sender.Arrived(1);
        sender.Arrived(2);
        sender.Answered(1_000);
        sender.Arrived(1_005);
        Assert.Equal(double.MaxValue, sender.PatienceMs);
        sender.Arrived(1_006);
        sender.Arrived(1_007);

        Assert.Equal(0, sender.PatienceMs);
    }

    [Fact]
    public void PatienceMs_of_whoever_is_never_answered_has_no_end()
    {
        ReadingSender.NeverAnswered.Arrived(0);
        ReadingSender.NeverAnswered.Answered(1);

        Assert.Equal(double.MaxValue, ReadingSender.NeverAnswered.PatienceMs);
    }
}
