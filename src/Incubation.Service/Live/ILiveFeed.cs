namespace Incubation.Service.Live;

/// <summary>Tells open pages that something changed: lossy, bounded, never waits.</summary>
internal interface ILiveFeed
{
    void Publish(string eventName, object payload);
}
