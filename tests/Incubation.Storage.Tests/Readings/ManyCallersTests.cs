using System.Globalization;
using Incubation.Core;
using Incubation.Core.Readings;
using Xunit;

namespace Incubation.Storage.Tests.Readings;

public sealed class ManyCallersTests
{
    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task StoreAsync_fifty_callers_with_twenty_in_flight_lose_nothing()
    {
        const int callers = 50, each = 2_000, inFlight = 20;
        await using TemporaryStore it = TemporaryStore.Opened();
        long begun = TimeProvider.System.GetTimestamp();

        await Task.WhenAll(Enumerable.Range(0, callers).Select(c => Task.Run(() => PublishAsync(it, $"p{c}", each, inFlight), Token)));

        double rate = callers * each / TimeProvider.System.GetElapsedTime(begun).TotalSeconds;
        TestContext.Current.SendDiagnosticMessage(string.Create(CultureInfo.InvariantCulture, $"{rate:N0} readings/s committed with FULL"));
        Assert.Equal([(long)callers * each], it.Ask("SELECT count(*) FROM reading", r => r.GetInt64(0)));
        Assert.Equal([(long)callers * each], it.Ask("SELECT count(*) FROM reading", r => r.GetInt64(0)));
        Assert.Empty(it.WrongRollups());
    }

    [Fact]
    public async Task StoreAsync_more_calls_than_the_queue_holds_wait_for_room_and_are_all_stored()
    {
        await using TemporaryStore it = TemporaryStore.Opened();

        await Task.WhenAll(Enumerable.Range(0, Limits.WriterQueue * 2).Select(i => it.Store.StoreAsync(new[] { Some.Reading(i * 10) }, Token)));

        Assert.Equal([Limits.WriterQueue * 2L], it.Ask("SELECT count(*) FROM reading", r => r.GetInt64(0)));
    }

    [Fact]
    public async Task Reads_go_on_while_the_writer_commits_and_see_whole_commits_only()
    {
        await using TemporaryStore it = TemporaryStore.Opened();
        Task writing = Task.Run(
            async () =>
            {
                for (int i = 0; i < 150; i++)
                {
                    await it.Store.StoreAsync(new[] { Some.Reading(i * 20), Some.Reading(i * 20 + 1), Some.Reading(i * 20 + 2) }, Token);
                }
            },
            Token);

        while (!writing.IsCompleted)
        {
            Assert.Equal(0, it.Store.Read(Some.Series(), Some.Before, Some.After).Count % 3);
        }

        await writing;
        Assert.Equal(450, it.Store.Read(Some.Series(), Some.Before, Some.After).Count);
    }

    [Fact]
    public async Task Closing_under_load_answers_every_caller_and_keeps_what_it_acknowledged()
    {
        await using TemporaryStore it = TemporaryStore.Opened();
        Task<int>[] callers = [.. Enumerable.Range(0, 20).Select(c => Task.Run(() => UntilClosedAsync(it, $"p{c}"), Token))];
        await it.Store.StoreAsync(new[] { Some.Reading(probe: "last") }, Token);

        await it.Store.DisposeAsync();

        int[] acknowledged = await Task.WhenAll(callers).WaitAsync(TimeSpan.FromSeconds(30), Token);
        Assert.Equal([acknowledged.Sum() + 1L], it.Ask("SELECT count(*) FROM reading", r => r.GetInt64(0)));
    }

    [Fact]
    public async Task Continuations_never_run_on_the_writer_thread()
    {
        await using TemporaryStore it = TemporaryStore.Opened();
        string? name = "none";

        await it.Store.StoreAsync(new[] { Some.Reading() }, Token)
            .ContinueWith(_ => name = Thread.CurrentThread.Name, Token, TaskContinuationOptions.ExecuteSynchronously, TaskScheduler.Default);

        Assert.NotEqual("readings writer", name);
    }

    private static async Task PublishAsync(TemporaryStore it, string probe, int count, int inFlight)
    {
        Queue<Task> ahead = new();
        for (int i = 0; i < count; i++)
        {
            ahead.Enqueue(it.Store.StoreAsync(new[] { Some.Reading(i * 100, 30 + i % 7, probe) }, Token));
            if (ahead.Count == inFlight)
            {
                await ahead.Dequeue();
            }
        }

        await Task.WhenAll(ahead);
    }

    private static async Task<int> UntilClosedAsync(TemporaryStore it, string probe)
    {
        for (int i = 0; ; i++)
        {
            try
            {
                await it.Store.StoreAsync(new[] { Some.Reading(i, probe: probe) }, Token);
            }
            catch (StoreUnavailableException)
            {
                return i;
            }
        }
    }
}
