using System.Buffers;
using System.Collections.Concurrent;
using System.Collections.Frozen;
using System.Text;
using System.Text.Json;
using Incubation.Core.Alarms;
using Incubation.Core.Readings;
using Incubation.Service.Alarms;
using Incubation.Service.Calling;
using Incubation.Service.Facility;
using Incubation.Service.Hosting;
using Incubation.Service.Tests.Hosting;
using Incubation.Storage.Records;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Time.Testing;
using NodaTime;
using SmtpServer;
using SmtpServer.Protocol;
using SmtpServer.Storage;
using Xunit;

namespace Incubation.Service.Tests.Calling;

/// <summary>A night from the reading to the answer, over a real SMTP conversation and a real HTTP receiver on loopback.</summary>
public sealed class NightTests : IAsyncLifetime
{
    private const string Secret = "whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw";
    private static readonly SeriesKey Series = new("p1", Quantity.Temperature);
    private readonly FakeTimeProvider _time = new(new DateTimeOffset(2026, 1, 1, 3, 0, 0, TimeSpan.Zero));
    private readonly string _folder = Directory.CreateTempSubdirectory("incubation-").FullName;
    private readonly BlockingCollection<(IHeaderDictionary Headers, string Body)> _posts = [];
    private readonly MailKeeper _mails = new();
    private readonly CancellationTokenSource _stop = new();
    private readonly List<Task> _running = [];
    private WebApplication? _app;
    private Microsoft.Extensions.DependencyInjection.ServiceProvider? _services;
    private readonly Disk _disk;
    private int _smtpPort;
    private string _hook = "";

    public NightTests() => _disk = new Disk(Path.Combine(_folder, "records.db"));

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync()
    {
        await using (RecordsContext context = _disk.CreateDbContext())
        {
            await context.Database.EnsureCreatedAsync(Token);
        }

        WebApplicationBuilder builder = WebApplication.CreateSlimBuilder();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        _app = builder.Build();
        _app.MapPost("/hook", async (HttpContext http) =>
        {
            using var reader = new StreamReader(http.Request.Body);
            var headers = new HeaderDictionary();
            foreach (var header in http.Request.Headers)
            {
                headers[header.Key] = header.Value;
            }

            _posts.Add((headers, await reader.ReadToEndAsync(Token)), Token);
        });
        await _app.StartAsync(Token);
        _hook = _app.Urls.First() + "/hook";

        var mailServices = new SmtpServer.ComponentModel.ServiceProvider();
        mailServices.Add((IMessageStore)_mails);
        using (var probe = new System.Net.Sockets.TcpListener(System.Net.IPAddress.Loopback, 0))
        {
            probe.Start();
            _smtpPort = ((System.Net.IPEndPoint)probe.LocalEndpoint).Port;
        }

        var smtp = new SmtpServer.SmtpServer(new SmtpServerOptionsBuilder().ServerName("localhost")
            .Endpoint(new EndpointDefinitionBuilder().Endpoint(new System.Net.IPEndPoint(System.Net.IPAddress.Loopback, _smtpPort)).Build()).Build(), mailServices);
        _running.Add(smtp.StartAsync(_stop.Token));
        await StartAsync();
    }

    [Fact]
    public async Task A_drift_calls_by_signed_webhook_and_mail_until_it_is_answered_and_looking_at_the_link_answers_nothing()
    {
        Observe(34);
        _time.Advance(TimeSpan.FromSeconds(59));
        Assert.Empty(_posts);
        _time.Advance(TimeSpan.FromSeconds(1));
        (IHeaderDictionary headers, string body) = Take();
        long seconds = long.Parse(headers["webhook-timestamp"].ToString(), System.Globalization.CultureInfo.InvariantCulture);
        Assert.Equal(
            WebhookSignature.Sign(WebhookSignature.Key(Secret)!, headers["webhook-id"].ToString(), seconds, Encoding.UTF8.GetBytes(body)),
            headers["webhook-signature"].ToString());
        JsonElement data = JsonDocument.Parse(body).RootElement.GetProperty("data");
        Assert.Equal("danger", data.GetProperty("severity").GetString());

        string mail = _mails.Mails.Take(Token);
        Assert.Contains("Auto-Submitted: auto-generated", mail, StringComparison.Ordinal);
        Assert.DoesNotContain("whsec_", mail, StringComparison.Ordinal);

        string token = data.GetProperty("answerUrl").GetString()!.Split('/')[^1];
        for (int i = 0; i < 10; i++)
        {
            AnswerLinkRecord? link = await Get<AnswerLinks>().FindAsync(token, Token);
            Assert.Equal("Ada", link!.Who);
        }

        Assert.Equal(AlarmState.Unacknowledged, Get<IAlarmDesk>().Standing().Single().State);
        _time.Advance(TimeSpan.FromSeconds(60));
        (IHeaderDictionary again, _) = Take();
        Assert.NotEqual(headers["webhook-id"].ToString(), again["webhook-id"].ToString());

        Assert.Equal(AnswerOutcome.Answered, Get<IAlarmDesk>().Answer(data.GetProperty("occurrence").GetGuid(), "Ada"));
        await Get<RecordsWriter>().Add((_, _) => Task.CompletedTask).WaitAsync(Token);
        await using RecordsContext context = _disk.CreateDbContext();
        Assert.Contains(await context.AlarmJournal.Select(l => l.Event).ToListAsync(Token), e => e == "answered");
    }

    [Fact]
    public void A_failing_disk_stops_neither_alarm_nor_call()
    {
        _disk.Fails = true;
        Observe(34);
        _time.Advance(TimeSpan.FromSeconds(60));
        // The fake clock stands still: the half second the call grants the disk has to be let pass.
        (IHeaderDictionary, string)? post = null;
        while (!Token.IsCancellationRequested && post is null)
        {
            _time.Advance(TimeSpan.FromMilliseconds(100));
            post = _posts.TryTake(out var taken, 20, Token) ? taken : null;
        }

        Assert.NotNull(post);
        Assert.True(Get<RecordsWriter>().Behind > 0);
    }

    [Fact]
    public async Task An_answered_alarm_stays_answered_after_a_restart()
    {
        Observe(34);
        _time.Advance(TimeSpan.FromSeconds(60));
        Take();
        Guid occurrence = Get<IAlarmDesk>().Standing().Single().Occurrence;
        Get<IAlarmDesk>().Answer(occurrence, "Bo");
        await Get<RecordsWriter>().Add((_, _) => Task.CompletedTask).WaitAsync(Token);
        await _services!.DisposeAsync();
        await StartAsync();
        StandingAlarm alarm = Get<IAlarmDesk>().Standing().Single();
        Assert.Equal((occurrence, AlarmState.Acknowledged, "Bo"), (alarm.Occurrence, alarm.State, alarm.AnsweredBy));
    }

    public async ValueTask DisposeAsync()
    {
        await _stop.CancelAsync();
        await _services!.DisposeAsync();
        await _app!.DisposeAsync();
        Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
        await Tidy.AwayAsync(_folder);
    }

    private async Task StartAsync()
    {
        var services = new ServiceCollection();
        services.AddLogging().AddOptions();
        services.Configure<IncubationOptions>(o =>
        {
            o.Mail = new MailOptions { Host = "127.0.0.1", Port = _smtpPort, Security = "none", From = "room@example.org" };
        });
        services.AddSingleton<TimeProvider>(_time).AddSingleton<ServiceClock>().AddSingleton<IFacility, OneIncubator>();
        services.AddSingleton<IDbContextFactory<RecordsContext>>(_disk);
        services.AddAlarms().AddCalling();
        _services = services.BuildServiceProvider();
        await Get<AlarmDesk>().LoadAsync(_disk, [], Token);
        await Get<CallDesk>().LoadAsync(_disk, Token);
        if (Get<CallOrder>().Steps.IsEmpty)
        {
            await Get<CallOrder>().ReplaceAsync([Step("Ada", "webhook", _hook, 60), Step("Bo", "mail", "bo@example.org", 0)], Token);
        }

        _running.Add(Get<RecordsWriter>().RunAsync(() => { }, _stop.Token));
        _running.Add(Get<CallDesk>().RunAsync(() => { }, _stop.Token));
    }

    private static CallStepRecord Step(string who, string channel, string address, int repeat) => new()
    {
        Id = Guid.NewGuid(),
        Who = who,
        Channel = channel,
        Address = address,
        Secret = channel == "webhook" ? Secret : null,
        RepeatSeconds = repeat,
        Enabled = true,
    };

    private T Get<T>() where T : notnull => _services!.GetRequiredService<T>();

    private (IHeaderDictionary Headers, string Body) Take() => _posts.Take(Token);

    private void Observe(double value)
    {
        Instant now = Get<ServiceClock>().Wall;
        Get<AlarmDesk>().Observe(new Reading(Series, value, now, now, ReadingMarks.None));
    }

    private sealed class OneIncubator : IFacility
    {
        public FacilitySnapshot Current { get; } = new(
            [new IncubatorPlace("a", "Python box", 0)],
            new Dictionary<string, PlacedProbe> { ["p1"] = new("p1", "a", "air", Instant.MinValue) }.ToFrozenDictionary(),
            new Dictionary<(string, Quantity), Band>
            {
                [("a", Quantity.Temperature)] = new Band("a", Quantity.Temperature, 29.5, 30.5, 32.5, 33.5, 0.2, Duration.FromSeconds(3600),
                    Duration.FromSeconds(60), Duration.FromSeconds(120), Duration.FromHours(2)),
            }.ToFrozenDictionary());

        public event Action<FacilitySnapshot>? Changed { add { } remove { } }
    }

    private sealed class Disk(string path) : IDbContextFactory<RecordsContext>
    {
        public bool Fails { get; set; }

        public RecordsContext CreateDbContext() => Fails
            ? throw new IOException("No space left on device")
            : new RecordsContext(new DbContextOptionsBuilder<RecordsContext>().UseSqlite($"Data Source={path}").Options);
    }

    private sealed class MailKeeper : MessageStore
    {
        public BlockingCollection<string> Mails { get; } = [];

        public override Task<SmtpResponse> SaveAsync(
            ISessionContext context, IMessageTransaction transaction, ReadOnlySequence<byte> buffer, CancellationToken cancellationToken)
        {
            Mails.Add(Encoding.UTF8.GetString(buffer.ToArray()), cancellationToken);
            return Task.FromResult(SmtpResponse.Ok);
        }
    }
}
