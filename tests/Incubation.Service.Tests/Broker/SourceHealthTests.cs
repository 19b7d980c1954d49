using System.Buffers;
using System.Text;
using Incubation.Core.Readings;
using Incubation.Service.Broker;
using Xunit;

namespace Incubation.Service.Tests.Broker;

public sealed class SourceHealthTests
{
    [Theory]
    [InlineData(true, 0, true, SourceState.Listening)]
    [InlineData(true, 60, true, SourceState.Listening)]
    [InlineData(true, 61, true, SourceState.Broken)]
    [InlineData(false, 20, true, SourceState.Reconnecting)]
    [InlineData(false, 61, true, SourceState.Broken)]
    [InlineData(true, 20, false, SourceState.Starting)]
    [InlineData(false, 61, false, SourceState.Broken)]
    public void Judge_goes_by_what_was_heard_and_not_by_the_connection(bool connected, int unheard, bool everHeard, object state)
        => Assert.Equal((SourceState)state, SourceHealth.Usual.Judge(connected, TimeSpan.FromSeconds(unheard), everHeard));

    [Fact]
    public void Usual_times_tell_a_dead_connection_within_ninety_seconds_and_try_a_new_one_before()
    {
        SourceHealth usual = SourceHealth.Usual;
        Assert.True(usual.BrokenAfter + usual.Patience < TimeSpan.FromSeconds(90));
        Assert.True(usual.RebuildAfter < usual.BrokenAfter);
        // One message of ours may be lost without the connection being called dead.
        Assert.True(usual.RebuildAfter > 2 * usual.Every);
        Assert.True(usual.Patience < usual.Every);
    }

    [Theory]
    [InlineData("incubation/{incubator}/{probe}/{quantity}", "incubation/me/me/service-heartbeat")]
    [InlineData("probes/{quantity}/{probe}", "probes/service-heartbeat/me")]
    [InlineData("probes/{probe}", "probes/service-heartbeat-me")]
    [InlineData("{any}/board-{probe}/{quantity}", "me/board-me/service-heartbeat")]
    public void Topic_of_the_heartbeat_is_heard_by_the_subscription_to_the_readings_and_is_never_a_reading(string template, string topic)
    {
        Heartbeat heartbeat = new(template, "me");
        Assert.Equal(topic, heartbeat.Topic);
        Assert.True(heartbeat.Owns(topic));
        Assert.True(heartbeat.Owns(new Heartbeat(template, "another").Topic));
        Assert.False(heartbeat.Owns("incubation/hazel/hazel-air/temperature"));
        if (TopicTemplate.TryParse(template, out TopicTemplate? parsed, out _))
        {
            string[] filter = parsed!.Filters[0].Split('/'), levels = topic.Split('/');
            Assert.Equal(filter.Length, levels.Length);
            Assert.All(filter.Zip(levels), pair => Assert.True(pair.First == "+" || pair.First == pair.Second));
        }
    }

    [Fact]
    public void IsOurs_only_the_newest_of_our_own_counts_and_once()
    {
        Heartbeat heartbeat = new(TopicTemplate.Default, "me"), earlier = new(TopicTemplate.Default, "me");
        byte[] old = earlier.Next(), first = heartbeat.Next(), second = heartbeat.Next();
        Assert.False(Ours(old));
        Assert.True(Ours(second));
        Assert.False(Ours(second));
        Assert.False(Ours(first));
        Assert.False(Ours(Encoding.ASCII.GetBytes(Encoding.ASCII.GetString(second).Split(' ')[0] + " 999")));
        Assert.False(Ours(new byte[100]));
        Assert.False(heartbeat.IsOurs("incubation/you/you/service-heartbeat", new ReadOnlySequence<byte>(heartbeat.Next())));

        bool Ours(byte[] payload) => heartbeat.IsOurs(heartbeat.Topic, new ReadOnlySequence<byte>(payload));
    }
}
