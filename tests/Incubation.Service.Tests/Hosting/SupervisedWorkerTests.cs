using Incubation.Service.Hosting;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using Xunit;

namespace Incubation.Service.Tests.Hosting;

public sealed class SupervisedWorkerTests
{
    private readonly FakeTimeProvider _time = new();
    private readonly Lifetime _lifetime = new();

    [Fact]
    public async Task RunAsync_that_keeps_failing_ends_the_process_with_70()
    {
        (WorkerSupport support, ServiceFate fate) = Support();
        using var worker = new Worker(support, (_, _) => throw new InvalidOperationException("broken"));
        await worker.StartAsync(TestContext.Current.CancellationToken);
        await UntilDoneAsync(worker);
        Assert.Equal(5, worker.Runs);
        Assert.Equal(70, fate.ExitCode);
        Assert.True(_lifetime.Stopped);
        Assert.Equal("failed", Assert.Single(support.Board.Pulses).Health().State);
    }

    [Fact]
    public async Task RunAsync_that_returns_early_is_started_again()
    {
        (WorkerSupport support, ServiceFate fate) = Support();
        using var worker = new Worker(support, (run, stop) => run == 1 ? Task.CompletedTask : Task.Delay(Timeout.InfiniteTimeSpan, _time, stop));
        await worker.StartAsync(TestContext.Current.CancellationToken);
        await Eventually.TrueAsync(() => { _time.Advance(TimeSpan.FromSeconds(1)); return worker.Runs == 2; }, "the second run");
        WorkerHealth health = Assert.Single(support.Board.Pulses).Health();
        Assert.Equal(("running", 1), (health.State, health.Failures));
        await worker.StopAsync(TestContext.Current.CancellationToken);
        Assert.Equal(0, fate.ExitCode);
    }

    [Fact]
    public async Task Health_without_progress_for_longer_than_promised_is_stalled_until_progress_comes()
    {
        (WorkerSupport support, _) = Support();
        using var worker = new Worker(support, (_, stop) => Task.Delay(Timeout.InfiniteTimeSpan, _time, stop), TimeSpan.FromSeconds(30));
        await worker.StartAsync(TestContext.Current.CancellationToken);
        await Eventually.TrueAsync(() => worker.Runs == 1, "the run");
        WorkerPulse pulse = Assert.Single(support.Board.Pulses);
        _time.Advance(TimeSpan.FromSeconds(30));
        Assert.Equal("running", pulse.Health().State);
        _time.Advance(TimeSpan.FromSeconds(1));
        Assert.Equal("stalled", pulse.Health().State);
        worker.Tick();
        Assert.Equal("running", pulse.Health().State);
        await worker.StopAsync(TestContext.Current.CancellationToken);
    }

    private (WorkerSupport Support, ServiceFate Fate) Support()
    {
        var fate = new ServiceFate(_lifetime);
        return (new WorkerSupport(_time, new WorkerBoard(_time), fate, NullLoggerFactory.Instance), fate);
    }

    private Task UntilDoneAsync(Worker worker)
        => Eventually.TrueAsync(() => { _time.Advance(TimeSpan.FromSeconds(1)); return worker.ExecuteTask!.IsCompleted; }, "the end of the worker");

    private sealed class Worker(WorkerSupport support, Func<int, CancellationToken, Task> work, TimeSpan? stallsAfter = null)
        : SupervisedWorker(support, "worker", stallsAfter)
    {
        private int _runs;

        public int Runs => Volatile.Read(ref _runs);

        public void Tick() => Progress();

        protected override Task RunAsync(CancellationToken stop) => work(Interlocked.Increment(ref _runs), stop);
    }

    private sealed class Lifetime : IHostApplicationLifetime
    {
        public bool Stopped { get; private set; }

        public CancellationToken ApplicationStarted => CancellationToken.None;

        public CancellationToken ApplicationStopping => CancellationToken.None;

        public CancellationToken ApplicationStopped => CancellationToken.None;

        public void StopApplication() => Stopped = true;
    }
}
