using System.Net.Sockets;
using System.Security.Authentication;
using Incubation.Service.Hosting;
using MQTTnet;

namespace Incubation.Service.Broker;

/// <summary>Tells people why there is no connection, and what to do. Pure.</summary>
internal sealed class LossWords(ExternalBrokerOptions external, string clientId)
{
    /// <summary>Name and port, as people know the broker.</summary>
    public string Broker { get; } = string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{external.Host}:{external.PortInUse}");

    public BrokerLoss Refused(MqttClientConnectResultCode code, string? reason) => new(
        code is MqttClientConnectResultCode.ServerBusy or MqttClientConnectResultCode.ServerUnavailable or MqttClientConnectResultCode.ConnectionRateExceeded
            ? LossKind.Unreachable : LossKind.Refused,
        code switch
        {
            MqttClientConnectResultCode.BadUserNameOrPassword or MqttClientConnectResultCode.NotAuthorized => string.IsNullOrEmpty(external.User)
                ? $"{Broker} lets nobody in without a user. Set Incubation:Mqtt:External:User and Password, or ClientCertificate, as the broker knows them."
                : $"{Broker} refuses the user \"{external.User}\": the user or the password is wrong. Set Incubation:Mqtt:External:User and Password as the broker knows them.",
            MqttClientConnectResultCode.ClientIdentifierNotValid =>
                $"{Broker} does not accept the client id \"{clientId}\". Set Incubation:Mqtt:External:ClientId to one that it does.",
            MqttClientConnectResultCode.UnsupportedProtocolVersion => $"{Broker} does not speak MQTT 5. Use a broker that does.",
            _ => $"{Broker} refuses the connection: {code}{Given(reason)}. Its log says more.",
        });

    public BrokerLoss Failed(Exception error, string? doubt)
    {
        if (doubt is not null)
        {
            return new BrokerLoss(LossKind.Refused, $"{Broker} is not believed: {doubt}.");
        }

        for (Exception? inner = error; inner is not null; inner = inner.InnerException)
        {
            switch (inner)
            {
                case StartException start:
                    return new BrokerLoss(LossKind.Refused, start.Message);
                case SocketException { SocketErrorCode: SocketError.HostNotFound or SocketError.NoData or SocketError.TryAgain }:
                    return new BrokerLoss(LossKind.Unreachable, $"No address is known for {external.Host}. Check Incubation:Mqtt:External:Host and the network.");
                case SocketException { SocketErrorCode: SocketError.ConnectionRefused }:
                    return new BrokerLoss(LossKind.Unreachable, $"Nothing listens at {Broker}. Start the broker, or check Incubation:Mqtt:External:Port.");
                case AuthenticationException:
                    return new BrokerLoss(LossKind.Refused, $"{Broker} and this service could not agree on TLS{Given(inner.Message)}. Check the port and both certificates.");
                case OperationCanceledException or TimeoutException:
                    return NoAnswer();
                default:
                    break;
            }
        }

        return new BrokerLoss(LossKind.Unreachable, external.Tls
            ? $"{Broker} can't be reached, or closes the connection before it is let in{Given(error.Message)}. Check Port, Tls and ClientCertificate under Incubation:Mqtt:External."
            : $"{Broker} can't be reached{Given(error.Message)}. Look at the broker and the network between; if it speaks TLS, set Incubation:Mqtt:External:Tls.");
    }

    public BrokerLoss NoAnswer() => new(LossKind.Silent, $"{Broker} does not answer. Look at the broker, and at the network between.");

    public BrokerLoss Unheard() => new(LossKind.Silent,
        $"{Broker} is connected, but what is published there does not come back to this service. Look at its log and its access rules: " +
        "the service must be allowed to read its topics and to publish its own message.");

    public BrokerLoss NotSubscribed(string filter, string code) => new(LossKind.Refused,
        $"{Broker} refuses the subscription to {filter}: {code}. Allow the client \"{clientId}\" to read it.");

    public BrokerLoss TooMany() => new(LossKind.Closed,
        $"{Broker} sends more unacknowledged messages than was agreed with it (Receive Maximum). Lower its limit of messages in flight.");

    public BrokerLoss Disconnected(MqttClientDisconnectReason reason, string? words, Exception? error) => reason switch
    {
        MqttClientDisconnectReason.SessionTakenOver => new BrokerLoss(LossKind.TakenOver,
            $"Another program signed in to {Broker} with the client id \"{clientId}\", and the broker put this service out. " +
            "Stop the other one, or give each its own Incubation:Mqtt:External:ClientId."),
        MqttClientDisconnectReason.ServerShuttingDown => new BrokerLoss(LossKind.Closed, $"{Broker} was shut down."),
        MqttClientDisconnectReason.NotAuthorized or MqttClientDisconnectReason.AdministrativeAction => new BrokerLoss(LossKind.Refused,
            $"{Broker} put this service out: {reason}{Given(words)}. Its log says more."),
        _ => new BrokerLoss(LossKind.Closed, $"{Broker} closed the connection{Given(words ?? error?.Message)}."),
    };

    public BrokerLoss ClosedAgainAndAgain() => new(LossKind.TakenOver,
        $"{Broker} closes each connection moments after it let this service in. Most likely another program signs in with the same client id \"{clientId}\". " +
        "Stop the other one, or give each its own Incubation:Mqtt:External:ClientId.");

    private static string Given(string? words) => string.IsNullOrWhiteSpace(words) ? "" : $" ({words.TrimEnd('.', ' ')})";
}
