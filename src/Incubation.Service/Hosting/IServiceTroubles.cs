using Incubation.Core.FirstScreen;

namespace Incubation.Service.Hosting;

/// <summary>A room that can tell that the service itself does not work as it should. Asked at every first screen: it must be quick.</summary>
internal interface IServiceTroubles
{
    IEnumerable<ServiceTrouble> Troubles();
}
