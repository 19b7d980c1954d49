using Incubation.EndToEnd.Tests.Instruments;
using Incubation.Storage.Influx;
using Xunit;

[assembly: AssemblyFixture(typeof(Incubation.Storage.Tests.Influx.InfluxFixture))]

namespace Incubation.Storage.Tests.Influx;

/// <summary>One influxd for all tests of this project, started by the first that asks. Each test uses probes of its own.</summary>
public sealed class InfluxFixture : IAsyncLifetime
{
    private readonly SemaphoreSlim _one = new(1);
    private InfluxServer? _server;

    internal async Task<InfluxServer> ServerAsync()
    {
        Needs.Program(InfluxServer.Program);
        await _one.WaitAsync(TestContext.Current.CancellationToken);
        try
        {
            return _server ??= await InfluxServer.StartAsync(TestContext.Current.CancellationToken);
        }
        finally
        {
            _one.Release();
        }
    }

    internal static InfluxSettings Settings(InfluxServer server) => new() { Url = server.Address, Bucket = InfluxServer.Database };

    public ValueTask InitializeAsync() => ValueTask.CompletedTask;

    public async ValueTask DisposeAsync()
    {
        _one.Dispose();
        if (_server is not null)
        {
            await _server.DisposeAsync();
        }
    }
}
