using System.Net;
using System.Security.Cryptography;
using System.Text;
using Incubation.Core;
using Incubation.Service.Hosting;
using Microsoft.Extensions.Options;
using MQTTnet.Formatter;
using MQTTnet.Protocol;
using MQTTnet.Server;

namespace Incubation.Service.Readings;

/// <summary>
/// Who may connect to the broker: everyone on this machine, and beyond it only who knows the user and password of the settings.
/// </summary>
internal sealed class ConnectionGate(IOptions<IncubationOptions> options)
{
    private readonly MqttOptions _mqtt = options.Value.Mqtt;

    public Task OnConnectingAsync(ValidatingConnectionEventArgs e)
    {
        if (e.ClientId.Length > Limits.ClientIdLength)
        {
            e.ReasonCode = MqttConnectReasonCode.ClientIdentifierNotValid;
            e.ReasonString = "The client id is too long. Use the probe's name.";
        }
        else if (!MayConnect(IsLoopback(e.RemoteEndPoint), e.UserName, e.RawPassword))
        {
            e.ReasonCode = MqttConnectReasonCode.BadUserNameOrPassword;
            e.ReasonString = "Beyond the service's own machine a user and a password are needed (Incubation:Mqtt:User, Incubation:Mqtt:Password).";
        }
        else if (e.ClientId.Length == 0 && e.ProtocolVersion == MqttProtocolVersion.V500)
        {
            e.AssignedClientIdentifier = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(12));
        }

        return Task.CompletedTask;
    }

    internal bool MayConnect(bool fromThisMachine, string? user, byte[]? password)
    {
        bool asked = !string.IsNullOrEmpty(_mqtt.User) && !string.IsNullOrEmpty(_mqtt.Password);
        if (fromThisMachine && (!asked || string.IsNullOrEmpty(user)))
        {
            return true;
        }

        // Both are compared whole and in constant time: how long it takes tells nothing of how much was right.
        return asked & Same(Bytes(_mqtt.User), Bytes(user)) & Same(Bytes(_mqtt.Password), password ?? []);
    }

    internal static bool IsLoopback(EndPoint? remote)
        => remote is IPEndPoint { Address: var address }
            && IPAddress.IsLoopback(address.IsIPv4MappedToIPv6 ? address.MapToIPv4() : address);

    private static bool Same(byte[] wanted, byte[] given)
        => CryptographicOperations.FixedTimeEquals(SHA256.HashData(wanted), SHA256.HashData(given));

    private static byte[] Bytes(string? text) => Encoding.UTF8.GetBytes(text ?? "");
}
