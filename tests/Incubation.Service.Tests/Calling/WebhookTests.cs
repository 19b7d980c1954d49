using System.Text.Json;
using Incubation.Service.Alarms;
using Incubation.Service.Calling;
using Incubation.Service.Tests.Hosting;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace Incubation.Service.Tests.Calling;

/// <summary>Webhooks to a real receiver that fails in every way. Scheme: Standard Webhooks specification (signature, id, timestamp; retries with the same id).</summary>
public sealed class WebhookTests
{
    [Fact]
    public async Task A_redirect_is_not_followed()
    {
        await using HookReceiver hook = await HookReceiver.StartAsync();
        hook.Answer = context =>
        {
            context.Response.Redirect("/elsewhere");
            return Task.CompletedTask;
        };
        await using NightHouse house = await NightHouse.StartAsync();
        await house.OrderAsync(NightHouse.Hook("Bo", hook.Address));
        await house.DriftAsync();
        await house.WaitAsync(() => hook.Posts.Count >= 2, "a second try");
        Assert.All(hook.Posts, p => Assert.False(p.Headers.ContainsKey("Referer")));
        Assert.Single(hook.Posts.Select(p => p.Id).Distinct());
        Assert.Contains("redirects", house.Get<CallDesk>().Health().Words, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_receiver_that_fails_is_tried_again_with_the_same_id_and_a_new_signature()
    {
        await using HookReceiver hook = await HookReceiver.StartAsync();
        hook.Status(500);
        await using NightHouse house = await NightHouse.StartAsync();
        await house.OrderAsync(NightHouse.Hook("Bo", hook.Address, repeat: 0));
        await house.DriftAsync();
        // Three tries make one attempt; the next attempt comes by the back-off, with its own time.
        await house.WaitAsync(() => hook.Posts.Count >= 4, "a second attempt");
        hook.Status(204);
        await house.WaitAsync(() => house.Get<Outbox>().Count == 0, "the delivery");
        Assert.Single(hook.Posts.Select(p => p.Id).Distinct());
        Assert.All(hook.Posts, p => Assert.True(p.IsSigned(NightHouse.Secret)));
        Assert.True(hook.Posts.Select(p => p.Headers["webhook-timestamp"].ToString()).Distinct().Count() > 1);
        Assert.Equal(["called", "call failed"], (await house.JournalAsync()).Select(l => l.Event).Where(e => e.StartsWith("call", StringComparison.Ordinal)));
    }

    [Fact]
    public async Task A_receiver_that_hangs_is_left_after_its_time_and_holds_nobody_else_up()
    {
        await using HookReceiver hook = await HookReceiver.StartAsync();
        await using HookReceiver quick = await HookReceiver.StartAsync();
        hook.Answer = context => Task.Delay(Timeout.InfiniteTimeSpan, TimeProvider.System, context.RequestAborted);
        await using NightHouse house = await NightHouse.StartAsync();
        await house.OrderAsync(NightHouse.Hook("Bo", hook.Address), NightHouse.Hook("Cy", quick.Address));
        await house.DriftAsync();
        await quick.PostAsync(0);
        await house.WaitAsync(() => house.Get<CallDesk>().Health().Words.Contains("did not answer in time", StringComparison.Ordinal), "the end of patience");
        Assert.True(house.Get<CallDesk>().Health().Reachable, "one of two is reached");
    }

    [Fact]
    public async Task A_certificate_counts_only_when_it_is_trusted()
    {
        (var certificate, ReceiverTrust trust) = MailReceiver.ThrowAway();
        await using HookReceiver hook = await HookReceiver.StartAsync(certificate);
        await using (NightHouse strict = await NightHouse.StartAsync())
        {
            await strict.OrderAsync(NightHouse.Hook("Bo", hook.Address));
            await strict.DriftAsync();
            await strict.WaitAsync(() => strict.Get<CallDesk>().Health().Words.Contains("certificate", StringComparison.Ordinal), "the failure");
            Assert.Empty(hook.Posts);
        }

        await using NightHouse house = await NightHouse.StartAsync(also: s => s.AddSingleton(trust));
        await house.OrderAsync(NightHouse.Hook("Bo", hook.Address));
        await house.DriftAsync();
        Assert.True((await hook.PostAsync(0)).IsSigned(NightHouse.Secret));
    }

    [Fact]
    public async Task What_was_not_delivered_goes_out_after_a_restart_with_the_same_id()
    {
        await using HookReceiver hook = await HookReceiver.StartAsync();
        hook.Status(503);
        DirectoryInfo data = Directory.CreateTempSubdirectory("incubation-test-");
        Dictionary<string, string?> settings = new() { ["Incubation:DataDirectory"] = data.FullName };
        NightHouse first = await NightHouse.StartAsync(settings);
        await first.OrderAsync(NightHouse.Hook("Bo", hook.Address, repeat: 0));
        Guid occurrence = await first.DriftAsync();
        string id = (await hook.PostAsync(0)).Id;
        await first.WrittenAsync();
        await first.DisposeAsync();
        hook.Status(204);
        int before = hook.Posts.Count;
        await using (NightHouse second = await NightHouse.StartAsync(settings, time: first.Time))
        {
            Post again = await hook.PostAsync(before);
            Assert.Equal((id, occurrence), (again.Id, again.Data.GetProperty("occurrence").GetGuid()));
            await Eventually.TrueAsync(() => second.Get<Outbox>().Count == 0, "the delivery");
            second.Time.Advance(TimeSpan.FromSeconds(30));
            Assert.Equal(before + 1, hook.Posts.Count);
        }

        SqliteConnection.ClearAllPools();
        await Tidy.AwayAsync(data.FullName);
    }

    [Fact]
    public async Task What_waits_is_not_needed_any_more_once_someone_has_answered()
    {
        await using HookReceiver hook = await HookReceiver.StartAsync();
        hook.Status(500);
        await using NightHouse house = await NightHouse.StartAsync();
        await house.OrderAsync(NightHouse.Hook("Bo", hook.Address));
        Guid occurrence = await house.DriftAsync();
        await house.WaitAsync(() => hook.Posts.Count >= 3, "an attempt");
        await house.PostAsync($"/api/alarms/{occurrence}/answers", new { });
        await Eventually.TrueAsync(() => house.Get<Outbox>().Count == 0, "the end of the call");
        await house.WrittenAsync();
        await using Incubation.Storage.Records.RecordsContext records = house
            .Get<Microsoft.EntityFrameworkCore.IDbContextFactory<Incubation.Storage.Records.RecordsContext>>().CreateDbContext();
        Assert.All(records.Calls.AsEnumerable(), call => Assert.Equal("not needed", call.Status));
        Assert.Equal(Core.Alarms.AlarmState.Acknowledged, house.Get<IAlarmDesk>().Standing().Single().State);
    }

    [Fact]
    public async Task A_mended_address_is_used_by_the_call_that_waits()
    {
        await using HookReceiver dead = await HookReceiver.StartAsync();
        await using HookReceiver alive = await HookReceiver.StartAsync();
        dead.Status(404);
        await using NightHouse house = await NightHouse.StartAsync();
        await house.OrderAsync(NightHouse.Hook("Bo", dead.Address, repeat: 0));
        await house.DriftAsync();
        await dead.PostAsync(0);
        JsonElement step = (await house.GetAsync("/api/call-out")).GetProperty("steps")[0];
        await house.OrderAsync(new
        {
            id = step.GetProperty("id").GetGuid(),
            who = "Bo",
            channel = "webhook",
            address = alive.Address,
            secret = NightHouse.Secret,
            afterSeconds = 0,
            repeatSeconds = 0,
        });
        Assert.True(house.Get<CallDesk>().Health().Reachable, "the new address is not known to fail");
        await house.WaitAsync(() => alive.Posts.Count == 1, "the call at the new address");
        Assert.Equal(dead.Posts[0].Id, alive.Posts[0].Id);
    }
}
