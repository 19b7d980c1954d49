using System.Net;
using System.Net.ServerSentEvents;
using Incubation.Core;
using Incubation.Service.Live;
using Incubation.Service.Tests.Readings;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using Xunit;

namespace Incubation.Service.Tests.Live;

public sealed class LiveFeedTests
{
    private const string Topic = "incubation/hazel/hazel-air/temperature";

    [Fact]
    public async Task A_feed_says_hello_first_and_is_not_buffered_by_proxies()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        await using Page page = await Page.OpenAsync(host);

        SseItem<string> hello = await page.NextAsync();

        Assert.Equal("hello", hello.EventType);
        Assert.Equal("""{"at":"2026-11-25T03:00:00Z"}""", hello.Data);
        Assert.Equal("text/event-stream", page.Answer.Content.Headers.ContentType?.MediaType);
        Assert.Equal("no", page.Answer.Headers.GetValues("X-Accel-Buffering").Single());
    }

    [Fact]
    public async Task A_heartbeat_comes_every_fifteen_seconds()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        await using Page page = await Page.OpenAsync(host);
        await page.NextAsync();

        host.Time.Advance(TimeSpan.FromSeconds(15));

        SseItem<string> beat = await page.NextAsync();
        Assert.Equal("heartbeat", beat.EventType);
        Assert.Equal("""{"at":"2026-11-25T03:00:15Z"}""", beat.Data);
    }

    [Fact]
    public async Task Readings_of_one_series_come_at_most_once_a_second()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        await using ProbeClient probe = await ProbeClient.ConnectAsync(host);
        await probe.PublishAsync(Topic, "30");
        await using Page page = await Page.OpenAsync(host);
        await page.NextAsync();

        await probe.PublishAsync(Topic, "31");
        await probe.PublishAsync(Topic, "32");
        host.Time.Advance(TimeSpan.FromSeconds(1));
        await probe.PublishAsync(Topic, "33");

        SseItem<string> first = await page.NextAsync(), second = await page.NextAsync();
        Assert.Equal("reading", first.EventType);
        Assert.Equal("""{"probe":"hazel-air","incubator":null,"quantity":"temperature","value":31,"at":"2026-11-25T03:00:00Z","quality":"good"}""", first.Data);
        Assert.Contains("\"value\":33", second.Data, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_change_of_the_facility_is_told()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        await using Page page = await Page.OpenAsync(host);
        await page.NextAsync();

        await host.AddIncubatorAsync("Hazel");

        SseItem<string> change = await page.NextAsync();
        Assert.Equal(("facility", "{}"), (change.EventType, change.Data));
    }

    [Fact]
    public async Task A_page_that_comes_back_is_told_to_look_again()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        await using Page page = await Page.OpenAsync(host, lastEventId: "7");
        await page.NextAsync();

        Assert.Equal("resync", (await page.NextAsync()).EventType);
    }

    [Fact]
    public async Task A_page_that_does_not_listen_loses_the_oldest_and_is_told_to_look_again()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        LiveFeed feed = host.Services.GetRequiredService<LiveFeed>();
        using LiveSubscription slow = feed.Join()!;

        for (int i = 0; i < Limits.LiveFeedQueue + 3; i++)
        {
            feed.Publish("alarms", new { i });
        }

        Assert.Equal("resync", (await slow.NextAsync(TestContext.Current.CancellationToken))!.Value.EventType);
        Assert.Equal("""{"i":3}""", (await slow.NextAsync(TestContext.Current.CancellationToken))!.Value.Data);
    }

    [Fact]
    public async Task One_page_too_many_is_asked_to_come_back_later_and_a_closed_one_makes_room()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        LiveFeed feed = host.Services.GetRequiredService<LiveFeed>();
        LiveSubscription[] open = [.. Enumerable.Range(0, Limits.LiveFeeds).Select(_ => feed.Join()!)];

        using HttpResponseMessage refused = await host.Http.GetAsync("/api/events", TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.ServiceUnavailable, refused.StatusCode);
        Assert.Equal("application/problem+json", refused.Content.Headers.ContentType?.MediaType);
        Assert.NotNull(refused.Headers.RetryAfter);
        open[0].Dispose();
        await using Page page = await Page.OpenAsync(host);
        Assert.Equal("hello", (await page.NextAsync()).EventType);
    }

    [Fact]
    public async Task A_feed_ends_when_the_service_stops_and_when_its_time_is_over()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        LiveFeed feed = host.Services.GetRequiredService<LiveFeed>();
        await using Page old = await Page.OpenAsync(host);
        await old.NextAsync();
        host.Time.Advance(TimeSpan.FromMinutes(21));
        Assert.True(await old.EndsAsync());
        await Eventually.True(() => !feed.HasListeners, "the feed has been left");

        await using Page page = await Page.OpenAsync(host);
        await page.NextAsync();
        host.Services.GetRequiredService<IHostApplicationLifetime>().StopApplication();

        Assert.True(await page.EndsAsync());
    }

    [Fact]
    public async Task Nobody_listens_without_being_signed_in()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        host.Http.DefaultRequestHeaders.Add("X-Role", "nobody");

        using HttpResponseMessage refused = await host.Http.GetAsync("/api/events", TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.Unauthorized, refused.StatusCode);
    }

    /// <summary>An open page: a real stream over a real connection.</summary>
    private sealed class Page(HttpResponseMessage answer, Stream stream) : IAsyncDisposable
    {
        private readonly IAsyncEnumerator<SseItem<string>> _events =
            SseParser.Create(stream).EnumerateAsync(TestContext.Current.CancellationToken).GetAsyncEnumerator(TestContext.Current.CancellationToken);

        public HttpResponseMessage Answer => answer;

        public static async Task<Page> OpenAsync(IntakeHost host, string? lastEventId = null)
        {
            using HttpRequestMessage request = new(HttpMethod.Get, "/api/events");
            if (lastEventId is not null)
            {
                request.Headers.Add("Last-Event-ID", lastEventId);
            }

            HttpResponseMessage answer = await host.Http.SendAsync(
                request, HttpCompletionOption.ResponseHeadersRead, TestContext.Current.CancellationToken);
            return new Page(answer, await answer.Content.ReadAsStreamAsync(TestContext.Current.CancellationToken));
        }

        public async Task<SseItem<string>> NextAsync()
        {
            Assert.True(await _events.MoveNextAsync().AsTask().WaitAsync(TimeSpan.FromSeconds(20), TimeProvider.System, TestContext.Current.CancellationToken));
            return _events.Current;
        }

        public async Task<bool> EndsAsync()
        {
            while (await _events.MoveNextAsync().AsTask().WaitAsync(TimeSpan.FromSeconds(20), TimeProvider.System, TestContext.Current.CancellationToken))
            {
                // What still comes before the end does not matter.
            }

            return true;
        }

        public ValueTask DisposeAsync()
        {
            stream.Dispose();
            answer.Dispose();
            return ValueTask.CompletedTask;
        }
    }
}
