using System.Globalization;
using System.Net;
using System.Net.Http.Json;
using System.Net.Security;
using System.Net.Sockets;
using System.Text.Json;
using Incubation.Service.Broker;
using Incubation.Service.Hosting;
using Incubation.Service.Tests.Hosting;
using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.DependencyInjection;
using MQTTnet;
using Xunit;

namespace Incubation.Service.Tests.Broker;

public sealed class ExternalBrokerTests
{
    private static readonly LossWords Words = new(new ExternalBrokerOptions { Host = "broker.example", User = "incubation" }, "egg-room");

    [Theory]
    [InlineData("Host", "mqtt://broker.example", "without mqtt://")]
    [InlineData("Host", "broker.example:1883", "without the port")]
    [InlineData("Port", "0", "a number from 1 to 65535", "b.example")]
    [InlineData("Port", "1884", "because Incubation:Mqtt:External:Port is set", null, "Host")]
    [InlineData("User", "incubation", "User and Password both set, or neither", "b.example", "Password")]
    [InlineData("ClientCertificate", "own.pem", "true, because Incubation:Mqtt:External:ClientCertificate is set", "b.example", "Tls")]
    [InlineData("CertificateAuthority", "ca.pem", "true, because Incubation:Mqtt:External:CertificateAuthority is set", "b.example", "Tls")]
    [InlineData("ClientKey", "own.key", "a file, because Incubation:Mqtt:External:ClientKey is set", "b.example", "ClientCertificate")]
    [InlineData("ClientId", "egg room", "letters, digits, dots, hyphens and underscores", "b.example")]
    [InlineData("KeepSessionHours", "0", "a number from 1 to 720", "b.example")]
    public void Read_a_wrong_setting_is_refused_with_key_and_what_is_allowed(string key, string value, string allowed, string? host = null, string? named = null)
    {
        StartException error = Assert.Throws<StartException>(() => Read(new RunMode(), ($"Mqtt:External:{key}", value), host is null ? ("Http:Listen", "any") : ("Mqtt:External:Host", host)));
        Assert.Contains($"Incubation:Mqtt:External:{named ?? key} ", error.Message, StringComparison.Ordinal);
        Assert.Contains(allowed, error.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("$share/room/incubation/{incubator}/{probe}/{quantity}")]
    [InlineData("$queue/incubation/{incubator}/{probe}/{quantity}")]
    public void Read_a_shared_subscription_is_refused_because_a_part_of_the_readings_judges_nothing(string topic)
        => Assert.Contains("part of them judges nothing", Assert.Throws<StartException>(() => Read(new RunMode(), ("Mqtt:Topic", topic))).Message, StringComparison.Ordinal);

    [Fact]
    public void Read_the_demo_speaks_to_no_external_broker()
        => Assert.Contains("nothing in the demo", Assert.Throws<StartException>(() => Read(new RunMode(Demo: true), ("Mqtt:External:Host", "b.example"))).Message, StringComparison.Ordinal);

    [Fact]
    public void Port_without_a_setting_goes_by_TLS()
    {
        Assert.Equal(1883, Read(new RunMode(), ("Mqtt:External:Host", "b.example")).Mqtt.External.PortInUse);
        Assert.Equal(8883, Read(new RunMode(), ("Mqtt:External:Host", "b.example"), ("Mqtt:External:Tls", "true")).Mqtt.External.PortInUse);
    }

    [Theory]
    [InlineData(MqttClientConnectResultCode.BadUserNameOrPassword, LossKind.Refused, "the user or the password is wrong")]
    [InlineData(MqttClientConnectResultCode.NotAuthorized, LossKind.Refused, "refuses the user \"incubation\"")]
    [InlineData(MqttClientConnectResultCode.ClientIdentifierNotValid, LossKind.Refused, "client id \"egg-room\"")]
    [InlineData(MqttClientConnectResultCode.UnsupportedProtocolVersion, LossKind.Refused, "does not speak MQTT 5")]
    [InlineData(MqttClientConnectResultCode.ServerBusy, LossKind.Unreachable, "ServerBusy")]
    public void Refused_says_why_and_what_to_do(MqttClientConnectResultCode code, object kind, string words)
    {
        BrokerLoss loss = Words.Refused(code, null);
        Assert.Equal((LossKind)kind, loss.Kind);
        Assert.Contains(words, loss.Words, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(SocketError.HostNotFound, "No address is known for broker.example")]
    [InlineData(SocketError.ConnectionRefused, "Nothing listens at broker.example:1883")]
    [InlineData(SocketError.NetworkUnreachable, "can't be reached")]
    public void Failed_tells_what_the_network_said(SocketError error, string words)
        => Assert.Contains(words, Words.Failed(new InvalidOperationException("outer", new SocketException((int)error)), null).Words, StringComparison.Ordinal);

    [Fact]
    public void Disconnected_by_a_takeover_names_the_client_id_and_the_setting()
    {
        BrokerLoss loss = Words.Disconnected(MqttClientDisconnectReason.SessionTakenOver, null, null);
        Assert.Equal(LossKind.TakenOver, loss.Kind);
        Assert.Contains("give each its own Incubation:Mqtt:External:ClientId", loss.Words, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(SslPolicyErrors.RemoteCertificateNotAvailable, "shows no certificate")]
    [InlineData(SslPolicyErrors.RemoteCertificateNameMismatch, "another name than broker.example")]
    [InlineData(SslPolicyErrors.RemoteCertificateChainErrors, "does not trust its certificate")]
    public void IsBelieved_a_doubt_is_told(SslPolicyErrors errors, string words)
    {
        using BrokerTrust trust = new(new ExternalBrokerOptions { Host = "broker.example", Tls = true });
        using System.Security.Cryptography.RSA key = System.Security.Cryptography.RSA.Create(2048);
        var request = new System.Security.Cryptography.X509Certificates.CertificateRequest(
            "CN=x", key, System.Security.Cryptography.HashAlgorithmName.SHA256, System.Security.Cryptography.RSASignaturePadding.Pkcs1);
        using var certificate = request.CreateSelfSigned(DateTimeOffset.UnixEpoch, DateTimeOffset.UnixEpoch.AddYears(100));
        Assert.False(trust.IsBelieved(certificate, null, errors));
        Assert.Contains(words, trust.Doubt!, StringComparison.Ordinal);
        Assert.True(trust.IsBelieved(certificate, null, SslPolicyErrors.None));
    }

    [Fact]
    public void BrokerTrust_a_file_that_is_not_there_is_named_with_its_setting()
    {
        StartException error = Assert.Throws<StartException>(
            () => new BrokerTrust(new ExternalBrokerOptions { Host = "b", Tls = true, CertificateAuthority = "no-such.pem" }).Dispose());
        Assert.Contains("Incubation:Mqtt:External:CertificateAuthority is \"no-such.pem\"", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Service_with_an_external_broker_listens_to_no_probe_itself_and_says_that_the_broker_is_away()
    {
        // A port that nobody listens on: taken and given back.
        using Socket taken = new(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        taken.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        int port = ((IPEndPoint)taken.LocalEndPoint!).Port;
        await using RunningService service = await RunningService.StartAsync(settings: new()
        {
            ["Incubation:Mqtt:External:Host"] = "127.0.0.1",
            ["Incubation:Mqtt:External:Port"] = port.ToString(CultureInfo.InvariantCulture),
        });
        Assert.Single(service.Addresses);

        IReadingSource source = service.Services.GetRequiredService<IReadingSource>();
        await Hosting.Eventually.TrueAsync(() => source.Now().Words.StartsWith("Nothing listens at 127.0.0.1", StringComparison.Ordinal), "the loss is told");
        Assert.Equal(("external", "starting", null), (source.Now().Kind, source.Now().State, source.Now().HeartbeatAt));

        using HttpClient browser = await service.ClaimedAsync();
        JsonElement broker = await browser.GetFromJsonAsync<JsonElement>(new Uri("/api/broker", UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Equal(("127.0.0.1", port), (broker.GetProperty("host").GetString(), broker.GetProperty("port").GetInt32()));

        BrokerIdentity identity = service.Services.GetRequiredService<BrokerIdentity>();
        Assert.Equal(identity.ClientId, await File.ReadAllTextAsync(Path.Combine(service.DataDirectory, "broker-client-id"), TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task Service_without_one_tells_of_the_broker_that_is_built_in()
    {
        await using RunningService service = await RunningService.StartAsync();
        IReadingSource source = service.Services.GetRequiredService<IReadingSource>();
        await Hosting.Eventually.TrueAsync(() => source.Now() is { Kind: "embedded", State: "listening", HeartbeatAt: not null }, "it listens");
    }

    private static IncubationOptions Read(RunMode mode, params (string Key, string Value)[] settings)
        => SettingsReader.Read(
            new ConfigurationBuilder().AddInMemoryCollection(settings.Select(s => KeyValuePair.Create($"Incubation:{s.Key}", (string?)s.Value))).Build(), mode);
}
