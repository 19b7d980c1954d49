using Incubation.Service.Hosting;
using NodaTime;

namespace Incubation.Service.Broker;

/// <summary>The built-in broker as a source: judged by whether it answers the service's own message.</summary>
internal sealed class EmbeddedSource(WorkerBoard board, ServiceClock clock) : IReadingSource
{
    public ReadingSourceView Now()
    {
        WorkerHealth? pulse = board.Pulses.FirstOrDefault(p => p.Name == "broker")?.Health();
        Instant? answered = pulse is null or { State: "stopped" } ? null : clock.Wall - Duration.FromSeconds(pulse.SecondsSinceProgress);
        return pulse switch
        {
            null or { State: "stopped" } => new ReadingSourceView("embedded", "starting", null, null, "The built-in broker is starting."),
            { State: "running" } => new ReadingSourceView("embedded", "listening", null, answered, "The built-in broker listens, and answers the service's own message."),
            _ => new ReadingSourceView("embedded", "broken", null, answered,
                "Listening is broken. The built-in broker does not answer the service's own message. Start the service again; its log says more."),
        };
    }
}
