using Incubation.Core.Readings;
using MQTTnet.Protocol;
using MQTTnet.Server;

namespace Incubation.Service.Readings;

/// <summary>
/// What happens to every message that is published to the embedded broker: it is judged at once, and the connection's
/// <see cref="Acknowledgements"/> hold its answer until it is on disk.
/// </summary>
internal sealed class PublishHook(ReadingIntake intake, TopicRoutes routes, BrokerBounds bounds, Unanswered unanswered)
{
    public Task OnPublishAsync(InterceptingPublishEventArgs e)
    {
        string topic = e.ApplicationMessage.Topic;
        if (topic == BrokerPulse.Topic)
        {
            e.ProcessPublish = false;
            return Task.CompletedTask;
        }

        bool takesAway = false;
        if (e.ApplicationMessage.Retain)
        {
            // From a probe to this broker it is a live message; the flag only asks the broker to keep a copy for others, and an empty
            // one takes that copy away.
            takesAway = e.ApplicationMessage.Payload.IsEmpty;
            e.ApplicationMessage.Retain = bounds.MayRetain(topic, takesAway);
        }

        e.ProcessPublish = bounds.AnyoneListens || e.ApplicationMessage.Retain;
        if (takesAway && routes.Of(topic).Match.Kind == TopicKind.Reading)
        {
            return Task.CompletedTask;
        }

        Acknowledgements? answers = unanswered.Of(e.CancellationToken);
        ReadingSender? sender = answers is null ? null
            : e.ApplicationMessage.QualityOfServiceLevel == MqttQualityOfServiceLevel.AtMostOnce ? ReadingSender.NeverAnswered
            : answers.Sender;
        IntakeResult result = intake.Take(topic, e.ApplicationMessage.Payload, Delivery.Published, sender);
        if (result.IsElsewhere && !bounds.AnyoneListens)
        {
            // Other programs may use the broker among themselves; a probe on a wrong topic shall be seen.
            result = intake.Reject(topic, e.ApplicationMessage.Payload, routes.NotOurs, MqttPubAckReasonCode.NoMatchingSubscribers);
        }

        if (result.Rejection is not null)
        {
            e.ProcessPublish = false;
            e.Response.ReasonCode = result.Code;
            e.Response.ReasonString = result.Rejection;
        }

        if (result.Commit.IsCompletedSuccessfully)
        {
            return Task.CompletedTask;
        }

        if (answers is not null)
        {
            answers.Owe(result.Commit);
            return Task.CompletedTask;
        }

        return AwaitCommit(result.Commit, e);
    }

    // A last will, which nobody is answered for: the next may wait.
    private static async Task AwaitCommit(Task commit, InterceptingPublishEventArgs e)
    {
        try
        {
            await commit;
        }
        catch (StoreUnavailableException)
        {
            e.ProcessPublish = false;
            e.CloseConnection = true;
        }
    }
}
