using System.Data.Common;
using System.Text.RegularExpressions;
using Incubation.EndToEnd.Tests.Instruments;
using Microsoft.Data.Sqlite;

namespace Incubation.EndToEnd.Tests.Durability;

/// <summary>Another program that holds the readings file off and on, so that spooling and catching up are always under way.</summary>
internal sealed partial class HeldOffAndOn : IAsyncDisposable
{
    private readonly CancellationTokenSource _end;
    private readonly Task _holding;

    public HeldOffAndOn(string data, Random chance, CancellationToken stop)
    {
        _end = CancellationTokenSource.CreateLinkedTokenSource(stop);
        _holding = Task.Run(() => HoldAsync(Path.Combine(data, "readings.db"), chance, _end.Token), CancellationToken.None);
    }

    /// <summary>Settings by which the service soon turns to its spool file, and soon back, and seals a day as soon as it is over.</summary>
    public static void Settle(ServiceSetup setup)
    {
        setup.Settings["Incubation__Test__LockPatienceMilliseconds"] = "10";
        setup.Settings["Incubation__Test__StoreRetryMilliseconds"] = "20";
        setup.Settings["Incubation__Test__SealAfterMilliseconds"] = "100";
    }

    /// <summary>Waits until the service has turned to its spool file for the first time.</summary>
    public static Task SpoolingAsync(ServiceProcess service, CancellationToken stop) => service.Log.WaitForAsync(Spooling(), TimeSpan.FromSeconds(60), stop);

    [GeneratedRegex("Store of readings: Spooling")]
    private static partial Regex Spooling();

    public async ValueTask DisposeAsync()
    {
        await _end.CancelAsync();
        await _holding;
        _end.Dispose();
    }

    private static async Task HoldAsync(string path, Random chance, CancellationToken end)
    {
        try
        {
            while (true)
            {
                await using (SqliteConnection connection = new($"Data Source={path};Pooling=False"))
                {
                    await connection.OpenAsync(end);
                    await using DbTransaction held = await connection.BeginTransactionAsync(end);
                    await Waiting.Pause(TimeSpan.FromMilliseconds(chance.Next(30, 250)), end);
                }

                await Waiting.Pause(TimeSpan.FromMilliseconds(chance.Next(20, 200)), end);
            }
        }
        catch (OperationCanceledException)
        {
            // The trouble is over.
        }
    }
}
