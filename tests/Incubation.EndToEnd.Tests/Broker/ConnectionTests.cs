using System.Globalization;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Incubation.EndToEnd.Tests.Instruments;
using Xunit;

namespace Incubation.EndToEnd.Tests.Broker;

/// <summary>The connection to a real mosquitto: lost, frozen, refused, encrypted.</summary>
public sealed partial class ConnectionTests
{
    [Fact(Timeout = 300_000)]
    public async Task A_broker_that_freezes_or_goes_is_told_and_is_heard_again_when_it_is_back()
    {
        CancellationToken stop = TestContext.Current.CancellationToken;
        await using MosquittoServer broker = new();
        await broker.StartAsync(stop);
        Mosquitto probes = new(broker.ProbePort);
        await using ServiceProcess service = await ServiceProcess.StartAsync(ListeningRoom.Setup(broker), stop);
        using ServiceClient owner = await ServiceClient.ClaimAsync(service, stop);
        await ListeningRoom.ConnectedAsync(service, stop);
        Assert.False(await AnswersMqttAsync(service.MqttPort, stop), "the built-in broker listens beside the external one");

        await probes.PublishAsync("incubation/hazel/live-air/temperature", "31.5", stop);
        await ListeningRoom.ProbeHeardAsync(owner, "live-air", stop);

        // The socket stays open and the kernel takes bytes for it: only what does not come back tells.
        await broker.FreezeAsync(stop);
        await BrokenAsync(owner, stop);
        await broker.ThawAsync(stop);
        await HeardAgainAsync(owner, probes, "thawed", stop);

        int connected = ListeningRoom.Connections(service);
        await broker.KillAsync(stop);
        await broker.StartAsync(stop);
        await ListeningRoom.ConnectedAsync(service, stop, connected + 1);
        await HeardAgainAsync(owner, probes, "started", stop);
        Assert.Equal(0, await service.TerminateAsync(stop));
    }

    [Fact(Timeout = 300_000)]
    public async Task Another_under_the_same_name_is_told_and_not_fought()
    {
        CancellationToken stop = TestContext.Current.CancellationToken;
        await using MosquittoServer broker = new();
        await broker.StartAsync(stop);
        await using ServiceProcess service = await ServiceProcess.StartAsync(ListeningRoom.Setup(broker, ("ClientId", "egg-room")), stop);
        await ListeningRoom.ConnectedAsync(service, stop);

        using CancellationTokenSource enough = CancellationTokenSource.CreateLinkedTokenSource(stop);
        Task other = RivalAsync(broker.ServicePort, "egg-room", enough.Token);
        await service.Log.WaitForAsync(TakenOver(), ListeningRoom.Limit, stop);
        await enough.CancelAsync();
        await other;
    }

    [Fact(Timeout = 300_000)]
    public async Task What_the_broker_had_kept_is_old_and_what_comes_live_is_good()
    {
        CancellationToken stop = TestContext.Current.CancellationToken;
        await using MosquittoServer broker = await LockedAsync(stop);
        await Tool.RunAsync(Needs.Program("mosquitto_pub"), stop, "-h", "127.0.0.1", "-p", broker.ProbePort.ToString(CultureInfo.InvariantCulture),
            "-q", "1", "-r", "-i", "old", "-t", "incubation/hazel/old-air/temperature", "-m", "31.4");

        await using ServiceProcess service = await ServiceProcess.StartAsync(
            ListeningRoom.Setup(broker, ("User", "incubation"), ("Password", "heron on the roof")), stop);
        using ServiceClient owner = await ServiceClient.ClaimAsync(service, stop);
        await ListeningRoom.ConnectedAsync(service, stop);
        await new Mosquitto(broker.ProbePort).PublishAsync("incubation/hazel/live-air/temperature", "31.5", stop);
        JsonNode live = await ListeningRoom.ProbeHeardAsync(owner, "live-air", stop);
        Assert.Equal("good", (string?)live["series"]![0]!["quality"]);
        JsonNode old = await ListeningRoom.ProbeHeardAsync(owner, "old-air", stop);
        Assert.NotEqual("good", (string?)old["series"]![0]!["quality"]);
    }

    [Fact(Timeout = 300_000)]
    public async Task A_wrong_password_is_told_in_words_and_never_shown()
    {
        CancellationToken stop = TestContext.Current.CancellationToken;
        await using MosquittoServer broker = await LockedAsync(stop);
        await using ServiceProcess refused = await ServiceProcess.StartAsync(
            ListeningRoom.Setup(broker, ("User", "incubation"), ("Password", "heron in the pond")), stop);
        await refused.Log.WaitForAsync(WrongPassword(), ListeningRoom.Limit, stop);
        Assert.DoesNotContain("heron", refused.Log.Text, StringComparison.Ordinal);
    }

    [Fact(Timeout = 300_000)]
    public async Task A_broker_with_TLS_is_believed_by_its_authority_and_believes_the_service_by_its_certificate()
    {
        CancellationToken stop = TestContext.Current.CancellationToken;
        await using MosquittoServer broker = new("""
            cafile {folder}/authority.pem
            certfile {folder}/broker.pem
            keyfile {folder}/broker.key
            require_certificate true
            use_identity_as_username true
            allow_anonymous false
            """);
        using TestAuthority authority = new("The egg room's authority"), stranger = new("Somebody else");
        authority.WriteTo(Path.Combine(broker.Folder, "authority.pem"));
        stranger.WriteTo(Path.Combine(broker.Folder, "stranger.pem"));
        authority.IssueServer(Path.Combine(broker.Folder, "broker.pem"), Path.Combine(broker.Folder, "broker.key"));
        string own = Path.Combine(broker.Folder, "service.pem");
        authority.IssueClient("incubation", own);
        await broker.StartAsync(stop);

        await using (ServiceProcess doubting = await ServiceProcess.StartAsync(
            ListeningRoom.Setup(broker, ("Tls", "true"), ("CertificateAuthority", Path.Combine(broker.Folder, "stranger.pem")), ("ClientCertificate", own)), stop))
        {
            await doubting.Log.WaitForAsync(NotBelieved(), ListeningRoom.Limit, stop);
        }

        await using ServiceProcess service = await ServiceProcess.StartAsync(
            ListeningRoom.Setup(broker, ("Tls", "true"), ("CertificateAuthority", Path.Combine(broker.Folder, "authority.pem")), ("ClientCertificate", own)), stop);
        using ServiceClient owner = await ServiceClient.ClaimAsync(service, stop);
        await ListeningRoom.ConnectedAsync(service, stop);
        await new Mosquitto(broker.ProbePort).PublishAsync("incubation/hazel/hazel-air/temperature", "31.4", stop);
        await ListeningRoom.ProbeHeardAsync(owner, "hazel-air", stop);
    }

    /// <summary>A broker that lets the service in with a password only.</summary>
    private static async Task<MosquittoServer> LockedAsync(CancellationToken stop)
    {
        MosquittoServer broker = new("allow_anonymous false\npassword_file {folder}/passwords");
        await Tool.RunAsync(Needs.Program("mosquitto_passwd"), stop,
            "-b", "-c", Path.Combine(broker.Folder, "passwords"), "incubation", "heron on the roof");
        await broker.StartAsync(stop);
        return broker;
    }

    private static Task BrokenAsync(ServiceClient owner, CancellationToken stop)
        => Waiting.UntilAsync(async () => await ListeningRoom.HeadlineAsync(owner, stop) == "Listening is broken: no reading can arrive.",
            ListeningRoom.Limit, "the first screen to say that listening is broken", stop);

    private static async Task HeardAgainAsync(ServiceClient owner, Mosquitto probes, string probe, CancellationToken stop)
    {
        await Waiting.UntilAsync(async () => !(await ListeningRoom.HeadlineAsync(owner, stop)).StartsWith("Listening is broken", StringComparison.Ordinal),
            ListeningRoom.Limit, "the first screen to be done with it", stop);
        await probes.PublishAsync($"incubation/hazel/{probe}/temperature", "31.4", stop);
        await ListeningRoom.ProbeHeardAsync(owner, probe, stop);
    }

    /// <summary>Another program that signs in under a name as soon as it was put out.</summary>
    private static async Task RivalAsync(int port, string clientId, CancellationToken stop)
    {
        while (!stop.IsCancellationRequested)
        {
            try
            {
                using MqttPeer peer = new();
                await peer.ConnectAsync(port, clientId, stop);
                while (await peer.ReceiveAsync(static (_, _) => { }, stop))
                {
                    // What it is sent is of no interest here.
                }

                await Waiting.Pause(TimeSpan.FromMilliseconds(100), stop);
            }
            catch (Exception error) when (error is OperationCanceledException or IOException or System.Net.Sockets.SocketException)
            {
                // Put out in the middle of something, or done.
            }
        }
    }

    private static async Task<bool> AnswersMqttAsync(int port, CancellationToken stop)
    {
        using MqttPeer peer = new();
        try
        {
            await peer.ConnectAsync(port, "knock", stop);
            return true;
        }
        catch (System.Net.Sockets.SocketException)
        {
            return false;
        }
    }

    [GeneratedRegex("closes each connection moments after it let this service in. Most likely another program signs in with the same client id \"egg-room\"")]
    private static partial Regex TakenOver();

    [GeneratedRegex("refuses the user \"incubation\": the user or the password is wrong")]
    private static partial Regex WrongPassword();

    [GeneratedRegex("is not believed: its certificate does not come from the authority")]
    private static partial Regex NotBelieved();
}
