using System.Net;
using System.Net.NetworkInformation;
using System.Net.Sockets;

namespace Incubation.Service.Hosting;

/// <summary>Addresses under which others on the network reach this machine. Tests put their own in its place.</summary>
internal class LocalAddresses
{
    /// <summary>IPv4 and routable IPv6; link-local IPv6 is left out, because it needs an interface beside it and no link names one.</summary>
    public virtual IReadOnlyList<IPAddress> Find() =>
    [
        .. NetworkInterface.GetAllNetworkInterfaces()
            .Where(face => face.OperationalStatus == OperationalStatus.Up)
            .SelectMany(face => face.GetIPProperties().UnicastAddresses)
            .Select(unicast => unicast.Address)
            .Where(address => !IPAddress.IsLoopback(address) && !address.IsIPv6LinkLocal
                && (address.AddressFamily is AddressFamily.InterNetwork or AddressFamily.InterNetworkV6))
            .Distinct(),
    ];
}
