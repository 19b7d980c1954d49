using System.ComponentModel;
using System.Globalization;
using System.Net;
using System.Runtime.InteropServices;
using Incubation.EndToEnd.Tests.Instruments;
using Microsoft.Win32.SafeHandles;

namespace Incubation.EndToEnd.Tests.Durability;

/// <summary>
/// A network namespace of the test's own, joined to this machine by one cable (a veth pair) that can be pulled: packets then vanish without a
/// word, as on a wireless network. Nothing in it reaches beyond this machine.
/// </summary>
internal sealed class CutNetwork : IAsyncDisposable
{
    private readonly string _name = string.Create(CultureInfo.InvariantCulture, $"eggs{Environment.ProcessId % 1_000_000}");

    /// <summary>This machine's end of the cable. The prefix is of private use (RFC 1918).</summary>
    public static IPAddress Here { get; } = new([10, 231, 77, 1]);

    private string Near => _name + "a";

    private string Far => _name + "b";

    public static async Task<CutNetwork> MakeAsync(CancellationToken stop)
    {
        CutNetwork network = new();
        Tool.Said added = await Tool.TryAsync("ip", ["netns", "add", network._name], stop);
        Needs.Hold(added.ExitCode == 0, $"this machine allows no network namespace ({added.Output.Trim()})");
        try
        {
            await RunAsync($"link add {network.Near} type veth peer name {network.Far} netns {network._name}", stop);
            await RunAsync($"addr add {Here}/30 dev {network.Near}", stop);
            await RunAsync($"link set {network.Near} up", stop);
            await RunAsync($"-n {network._name} addr add 10.231.77.2/30 dev {network.Far}", stop);
            await RunAsync($"-n {network._name} link set {network.Far} up", stop);
            return network;
        }
        catch
        {
            await network.DisposeAsync();
            throw;
        }
    }

    public Task CutAsync(CancellationToken stop) => RunAsync($"-n {_name} link set {Far} down", stop);

    public Task JoinAsync(CancellationToken stop) => RunAsync($"-n {_name} link set {Far} up", stop);

    /// <summary>A peer whose socket is in the namespace. A socket stays where the thread was that made it.</summary>
    public MqttPeer Peer()
    {
        MqttPeer? peer = null;
        Exception? error = null;
        Thread there = new(() =>
        {
            try
            {
                using SafeFileHandle space = File.OpenHandle(Path.Combine("/run/netns", _name), FileMode.Open, FileAccess.Read, FileShare.ReadWrite);
                peer = Enter(space, 0) == 0 ? new MqttPeer() : throw new Win32Exception(Marshal.GetLastPInvokeError());
            }
            catch (Exception failed) when (failed is IOException or Win32Exception)
            {
                error = failed;
            }
        });
        there.Start();
        there.Join();
        return peer ?? throw new IOException("No socket could be made in the network namespace.", error);
    }

    public async ValueTask DisposeAsync()
    {
        await Tool.TryAsync("ip", ["link", "del", Near], CancellationToken.None);
        await Tool.TryAsync("ip", ["netns", "del", _name], CancellationToken.None);
    }

    private static Task<string> RunAsync(string arguments, CancellationToken stop) => Tool.RunAsync("ip", stop, arguments.Split(' '));

    [DllImport("libc", EntryPoint = "setns", SetLastError = true), DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int Enter(SafeFileHandle space, int kind);
}
