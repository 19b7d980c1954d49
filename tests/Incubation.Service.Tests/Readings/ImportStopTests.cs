using System.Net;
using System.Text.Json;
using Incubation.Core.Readings;
using Incubation.Service.Probes;
using Incubation.Service.Readings;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using Xunit;

namespace Incubation.Service.Tests.Readings;

/// <summary>Imports that are stopped, fail or are cut off half-way, and go on.</summary>
public sealed class ImportStopTests
{
    private const int Lines = 5_500;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Stopped_half_way_it_says_what_is_stored_and_goes_on_from_there()
    {
        await using IntakeHost host = await IntakeHost.StartAsync(GatedStore.Register);
        GatedStore store = host.Services.GetRequiredService<GatedStore>();
        TaskCompletionSource reached = new(TaskCreationOptions.RunContinuationsAsynchronously), open = new(TaskCreationOptions.RunContinuationsAsynchronously);
        store.Before = commit =>
        {
            if (commit == 3)
            {
                reached.SetResult();
            }

            return commit >= 3 ? open.Task : Task.CompletedTask;
        };
        JsonElement import = await host.ConfirmAsync(await host.SendFileAsync(ImportRoom.Export(Lines)), ("hazel-air", "hazel-air"));
        await host.BeginAsync(import);
        await reached.Task.WaitAsync(Token);
        JsonElement running = await host.LookAsync(import);
        using HttpResponseMessage second = await host.PostAsync($"/api/imports/{ImportRoom.Id(import)}/dry-runs", new { });
        using HttpResponseMessage delete = await host.DeleteAsync($"/api/imports/{ImportRoom.Id(import)}");

        Assert.Equal(("run", 2_000), (running.GetProperty("running").GetString(), running.Number("run", "taken")));
        Assert.Equal((HttpStatusCode.Conflict, HttpStatusCode.Conflict), (second.StatusCode, delete.StatusCode));

        Task<JsonElement> stopping = host.StopAsync(import);
        open.SetResult();
        JsonElement stopped = await stopping;

        Assert.Equal(("stopped", 3_000, 3_001), (stopped.GetProperty("state").GetString(), stopped.Number("run", "taken"), stopped.Number("run", "lines")));
        Assert.Equal(3_000, host.Stored("hazel-air", Quantity.Temperature).Count);
        using HttpResponseMessage columns = await host.PutAsync($"/api/imports/{ImportRoom.Id(import)}/columns", stopped.GetProperty("guess"));
        Assert.Equal(HttpStatusCode.Conflict, columns.StatusCode);

        await host.BeginAsync(import);
        Whole(host, await host.EndAsync(import));
    }

    [Fact]
    public async Task When_the_store_takes_nothing_it_stops_with_the_words_and_loses_and_doubles_nothing()
    {
        await using IntakeHost host = await IntakeHost.StartAsync(GatedStore.Register);
        GatedStore store = host.Services.GetRequiredService<GatedStore>();
        store.Before = commit => commit % 2 == 0 ? throw new StoreUnavailableException("The disk is full.") : Task.CompletedTask;
        JsonElement import = await host.ConfirmAsync(await host.SendFileAsync(ImportRoom.Export(Lines)), ("hazel-air", "hazel-air"));
        int rounds = 0;
        JsonElement now;
        do
        {
            await host.BeginAsync(import);
            now = await host.EndAsync(import);
            rounds++;
        }
        while (now.GetProperty("state").GetString() == "stopped" && now.GetProperty("run").GetProperty("words").GetString() == "The disk is full.");

        Assert.Equal(6, rounds);
        Whole(host, now);
    }

    [Fact]
    public async Task Cut_off_with_the_service_it_is_stopped_at_the_next_start_and_what_was_stored_since_is_not_doubled()
    {
        string data = Directory.CreateTempSubdirectory("incubation-test-").FullName;
        JsonElement import;
        await using (IntakeHost host = await IntakeHost.StartAsync(GatedStore.Register, directory: data, keep: true))
        {
            GatedStore store = host.Services.GetRequiredService<GatedStore>();
            TaskCompletionSource never = new();
            store.Before = commit => commit == 4 ? never.Task.WaitAsync(Token) : Task.CompletedTask;
            import = await host.ConfirmAsync(await host.SendFileAsync(ImportRoom.Export(Lines)), ("hazel-air", "hazel-air"));
            await host.BeginAsync(import);
            await Hosting.Eventually.TrueAsync(() => store.Commits == 4, "the fourth batch");
            never.SetException(new StoreUnavailableException("The store is closed."));
        }

        await using IntakeHost later = await IntakeHost.StartAsync(directory: data);
        JsonElement stopped = await later.LookAsync(import);
        Assert.Equal("stopped", stopped.GetProperty("state").GetString());

        await later.BeginAsync(import);
        Whole(later, await later.EndAsync(import));
    }

    [Fact]
    public async Task A_file_that_is_not_the_one_that_was_sent_any_more_is_not_gone_on_with()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        JsonElement import = await host.ConfirmAsync(await host.SendFileAsync(ImportRoom.Export(10)), ("hazel-air", "hazel-air"));
        await File.AppendAllTextAsync(host.Services.GetRequiredService<ImportFiles>().PathOf(Guid.Parse(ImportRoom.Id(import))), "x", Token);

        await host.BeginAsync(import);
        JsonElement failed = await host.EndAsync(import);

        Assert.Equal("failed", failed.GetProperty("state").GetString());
        Assert.Contains("not the one that was sent", failed.GetProperty("run").GetProperty("words").GetString(), StringComparison.Ordinal);
        Assert.Empty(host.Stored("hazel-air", Quantity.Temperature));
    }

    [Fact]
    public async Task Files_that_nobody_went_on_with_are_deleted_after_their_days()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        ImportFiles files = host.Services.GetRequiredService<ImportFiles>();
        JsonElement import = await host.SendFileAsync(ImportRoom.Export(10));
        Guid id = Guid.Parse(ImportRoom.Id(import));
        files.Touch(id, Instant.FromUtc(2026, 11, 1, 0, 0));

        files.Tidy(Instant.FromUtc(2026, 11, 14, 0, 0));
        Assert.True(files.IsHere(id));
        files.Tidy(Instant.FromUtc(2026, 11, 16, 0, 0));
        Assert.False(files.IsHere(id));

        using HttpResponseMessage gone = await host.PostAsync($"/api/imports/{id}/runs", new { });
        Assert.Contains("not here any more", await gone.Content.ReadAsStringAsync(Token), StringComparison.Ordinal);
    }

    private static void Whole(IntakeHost host, JsonElement done)
    {
        Assert.Equal(("done", Lines, Lines + 1), (done.GetProperty("state").GetString(), done.Number("run", "taken"), done.Number("run", "lines")));
        Assert.Equal(
            Enumerable.Range(0, Lines).Select(i => (ImportRoom.Start + Duration.FromMinutes(i), 30 + i % 100 / 50.0)),
            host.Stored("hazel-air", Quantity.Temperature).Select(reading => (reading.At, reading.Value)));
        Assert.NotNull(host.Services.GetRequiredService<ProbeRegister>().Find("hazel-air"));
    }
}
