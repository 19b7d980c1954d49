using CsCheck;
using Incubation.Core;
using Incubation.Core.Readings;
using Incubation.Service.Readings;
using Microsoft.Extensions.Logging.Abstractions;
using MQTTnet.Packets;
using MQTTnet.Protocol;
using Xunit;

namespace Incubation.Service.Tests.Readings;

public sealed class AcknowledgementsTests
{
    private static readonly StoreUnavailableException Full = new("The disk is full. Make room.");

    [Fact]
    public void Answers_leave_in_the_order_of_their_messages_and_none_before_its_commit()
        => Gen.Select(Gen.Int[1, 30], Gen.Int[0, 1_000_000]).Sample((count, seed) =>
        {
            Random chance = new(seed);
            Line line = new();
            TaskCompletionSource[] commits = [.. Enumerable.Range(0, count).Select(_ => new TaskCompletionSource())];
            List<int> open = [];
            bool[] safe = new bool[count];
            for (int received = 0, made = 0; made < count || open.Count > 0;)
            {
                switch (chance.Next(3))
                {
                    case 0 when received < count:
                        line.Answers.Received(Message((ushort)(received % 7 + 1)));
                        line.Answers.Owe(commits[received].Task);
                        open.Add(received++);
                        break;
                    case 1 when made < received:
                        line.Answers.Answer(new MqttPubAckPacket { PacketIdentifier = (ushort)(made++ % 7 + 1) });
                        break;
                    case 2 when open.Count > 0:
                        int one = open[chance.Next(open.Count)];
                        open.Remove(one);
                        safe[one] = true;
                        commits[one].SetResult();
                        break;
                }

                for (int sent = 0; sent < line.Sent.Count; sent++)
                {
                    if (!safe[sent] || line.Sent[sent] != sent % 7 + 1)
                    {
                        return false;
                    }
                }
            }

            return line.Sent.Count == count && line.Answers.Count == 0 && line.All.Count == 0;
        });

    [Fact]
    public void An_mqtt5_client_is_refused_the_one_message_that_is_not_safe_and_told_of_the_others_in_order()
    {
        Line line = new() { HearsReasons = true };
        TaskCompletionSource[] commits = line.Take(3);

        commits[2].SetResult();
        commits[1].SetException(Full);
        Assert.Empty(line.Sent);
        commits[0].SetResult();

        Assert.Equal([1, 2, 3], line.Sent);
        Assert.Equal([MqttPubAckReasonCode.Success, MqttPubAckReasonCode.ImplementationSpecificError, MqttPubAckReasonCode.Success], line.Codes);
        Assert.False(line.IsClosed);
    }

    [Fact]
    public void An_mqtt3_client_hears_nothing_from_the_first_message_on_that_is_not_safe_and_its_connection_is_closed()
    {
        Line line = new();
        TaskCompletionSource[] commits = line.Take(3);

        commits[0].SetResult();
        commits[2].SetResult();
        commits[1].SetException(Full);

        Assert.Equal([1], line.Sent);
        Assert.True(line.IsClosed);
        Assert.Equal(0, line.All.Count);
    }

    [Fact]
    public void A_connection_that_ends_is_sent_nothing_more_and_what_it_was_owed_is_counted_down()
    {
        Line line = new();
        TaskCompletionSource[] commits = line.Take(2);
        line.Answers.Received(Message(3));
        line.Answers.Owe(new TaskCompletionSource().Task);

        line.Answers.End();
        line.Answers.Answer(new MqttPubAckPacket { PacketIdentifier = 3 });
        commits[0].SetResult();
        commits[1].SetException(Full);

        Assert.Empty(line.Sent);
        Assert.Equal(1, line.All.Count);
    }

    [Fact]
    public void An_answer_left_over_from_the_sessions_connection_before_is_not_sent()
    {
        Line line = new();

        line.Answers.Answer(new MqttPubAckPacket { PacketIdentifier = 9 });
        line.Take(1);
        line.Answers.Answer(new MqttPubAckPacket { PacketIdentifier = 9 });

        Assert.Empty(line.Sent);
    }

    [Fact]
    public async Task From_a_client_that_does_not_read_no_more_is_taken_than_the_bound()
    {
        TaskCompletionSource reads = new();
        Line line = new() { Sending = reads.Task };
        foreach (TaskCompletionSource commit in line.Take(Limits.UnacknowledgedMessages))
        {
            commit.SetResult();
        }

        Assert.True(line.Answers.IsFull);
        Task room = line.Answers.RoomAsync(TestContext.Current.CancellationToken);
        Assert.False(room.IsCompleted);
        reads.SetResult();
        await room;
        await Eventually.True(() => line.Answers.Count == 0, "every answer has left");
        Assert.Equal(Limits.UnacknowledgedMessages, line.Sent.Count);
    }

    [Fact]
    public void A_message_of_qos_0_gets_no_answer_and_counts_until_it_is_safe()
    {
        Line line = new();
        TaskCompletionSource commit = new();

        line.Answers.Received(new MqttPublishPacket { QualityOfServiceLevel = MqttQualityOfServiceLevel.AtMostOnce });
        line.Answers.Owe(commit.Task);
        Assert.Equal(1, line.Answers.Count);
        commit.SetException(Full);

        Assert.Equal(0, line.Answers.Count);
        Assert.False(line.IsClosed);
    }

    [Fact]
    public async Task CloseAsync_waits_until_everything_owed_is_answered_and_takes_nothing_more()
    {
        Line line = new();
        TaskCompletionSource[] commits = line.Take(2);

        Task closing = line.All.CloseAsync(TimeSpan.FromMinutes(10), TestContext.Current.CancellationToken);
        Assert.False(closing.IsCompleted);
        Assert.True(line.Answers.IsFull);
        Array.ForEach(commits, commit => commit.SetResult());

        await closing;
        Assert.Equal([1, 2], line.Sent);
    }

    private static MqttPublishPacket Message(ushort id) => new() { PacketIdentifier = id, QualityOfServiceLevel = MqttQualityOfServiceLevel.AtLeastOnce };

    /// <summary>One connection without a network.</summary>
    private sealed class Line
    {
        public Line() => Answers = new Acknowledgements(SendAsync, () => HearsReasons, () => IsClosed = true, All, NullLogger.Instance);

        public Unanswered All { get; } = new();

        public Acknowledgements Answers { get; }

        public bool HearsReasons { get; init; }

        public Task Sending { get; init; } = Task.CompletedTask;

        public bool IsClosed { get; private set; }

        public List<int> Sent { get; } = [];

        public List<MqttPubAckReasonCode> Codes { get; } = [];

        /// <summary>So many messages are taken, with their answers made and their commits still to come.</summary>
        public TaskCompletionSource[] Take(int count)
        {
            TaskCompletionSource[] commits = [.. Enumerable.Range(0, count).Select(_ => new TaskCompletionSource())];
            for (int i = 0; i < count; i++)
            {
                Answers.Received(Message((ushort)(i + 1)));
                Answers.Owe(commits[i].Task);
                Answers.Answer(new MqttPubAckPacket { PacketIdentifier = (ushort)(i + 1) });
            }

            return commits;
        }

        private async Task SendAsync(MqttPacket packet)
        {
            await Sending;
            Sent.Add(((MqttPubAckPacket)packet).PacketIdentifier);
            Codes.Add(((MqttPubAckPacket)packet).ReasonCode);
        }
    }
}
