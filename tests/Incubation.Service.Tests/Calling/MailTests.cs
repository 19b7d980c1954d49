using System.Net;
using System.Net.Sockets;
using System.Text;
using System.Text.Json;
using Incubation.Service.Calling;
using Incubation.Service.Tests.Hosting;
using Microsoft.Extensions.DependencyInjection;
using MimeKit;
using SmtpServer.Protocol;
using Xunit;

namespace Incubation.Service.Tests.Calling;

/// <summary>
/// Mail over real SMTP conversations. Sources: RFC 5322 (2008) section 3.6.4 (Message-ID, References), RFC 3834 (2004) section 5
/// (Auto-Submitted), RFC 2047 (1996) (words that are not ASCII in headers), RFC 3207 (2002) (STARTTLS), RFC 8314 (2018) (TLS from the first byte).
/// </summary>
public sealed class MailTests
{
    [Theory]
    [InlineData("starttls")]
    [InlineData("tls")]
    public async Task A_call_goes_out_over_TLS_when_the_certificate_is_trusted(string security)
    {
        (var certificate, ReceiverTrust trust) = MailReceiver.ThrowAway();
        await using MailReceiver mail = MailReceiver.Start(certificate, tls: security == "tls");
        await using NightHouse house = await NightHouse.StartAsync(mail.Settings(security), also: s => s.AddSingleton(trust));
        await house.OrderAsync(NightHouse.Mail("Bo", "bo@example.org"));
        await house.DriftAsync();
        Assert.Contains("Danger", (await mail.MailAsync(0)).Subject, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("starttls")]
    [InlineData("tls")]
    public async Task A_certificate_that_is_not_trusted_gets_no_mail_and_the_failure_is_seen(string security)
    {
        (var certificate, _) = MailReceiver.ThrowAway();
        await using MailReceiver mail = MailReceiver.Start(certificate, tls: security == "tls");
        await using NightHouse house = await NightHouse.StartAsync(mail.Settings(security));
        await house.OrderAsync(NightHouse.Mail("Bo", "bo@example.org"));
        await house.DriftAsync();
        await AssertFailureIsSeenAsync(house, "certificate");
        Assert.Empty(mail.Mails);
    }

    [Fact]
    public async Task A_server_without_TLS_gets_no_mail_where_TLS_is_asked_for()
    {
        await using MailReceiver mail = MailReceiver.Start();
        await using NightHouse house = await NightHouse.StartAsync(mail.Settings("starttls"));
        await house.OrderAsync(NightHouse.Mail("Bo", "bo@example.org"));
        await house.DriftAsync();
        await AssertFailureIsSeenAsync(house, "STARTTLS");
        Assert.Empty(mail.Mails);
    }

    [Fact]
    public async Task Headers_thread_the_mails_of_one_alarm_and_say_that_a_machine_wrote_them()
    {
        await using MailReceiver mail = MailReceiver.Start();
        await using NightHouse house = await NightHouse.StartAsync(mail.Settings(), name: "Nära värmen 温度");
        await house.OrderAsync(NightHouse.Mail("Bo Ärlig", "bo@example.org", repeat: 60));
        await house.DriftAsync();
        MimeMessage first = await mail.MailAsync(0);
        await house.WaitAsync(() => mail.Mails.Count > 1, "the repeat");
        MimeMessage second = await mail.MailAsync(1);
        Assert.NotEqual(first.MessageId, second.MessageId);
        Assert.EndsWith("@example.org", first.MessageId, StringComparison.Ordinal);
        Assert.Equal(Assert.Single(first.References), Assert.Single(second.References));
        Assert.Equal("auto-generated", first.Headers[HeaderId.AutoSubmitted]);
        Assert.Equal(MessageImportance.High, first.Importance);
        Assert.Contains("Nära värmen 温度", first.Subject, StringComparison.Ordinal);
        Assert.Equal("Bo Ärlig", first.To.Mailboxes.Single().Name);
        string head = Encoding.Latin1.GetString(mail.Mails[0]).Split("\r\n\r\n")[0];
        Assert.All(head, c => Assert.True(c < 128, "the header is ASCII"));
        Assert.Contains("=?utf-8?", head, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task A_line_break_in_a_name_becomes_no_header()
    {
        await using MailReceiver mail = MailReceiver.Start();
        await using NightHouse house = await NightHouse.StartAsync(mail.Settings());
        await house.OrderAsync(NightHouse.Mail("Bo", "bo@example.org"));
        OrderedStep step = house.Get<CallOrder>().Steps.Single();
        // Past every check at the door: the sender itself must not be fooled.
        var hostile = step with { Step = step.Step with { Who = "Bo\r\nBcc: thief@example.org" } };
        var data = new CallData(Guid.NewGuid(), null, "Box", null, null, null, "high", "danger", "unacknowledged", null, null, default, "Words\r\n.\r\nQUIT", null);
        var message = new CallMessage(CallMessage.Raised, default, "Danger: box\r\nBcc: thief@example.org", data);
        SendResult result = await house.Get<Outbox>().TryAsync(hostile, message, "call_1", "http://localhost/answer/x", NightHouse.Stop);
        Assert.True(result.Delivered, result.Error);
        MimeMessage got = await mail.MailAsync(0);
        Assert.Empty(got.Bcc);
        Assert.DoesNotContain(got.Headers, h => h.Field.Equals("Bcc", StringComparison.OrdinalIgnoreCase));
        Assert.Contains("thief@example.org", got.Subject, StringComparison.Ordinal);
        Assert.Contains("/answer/x", got.TextBody, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_server_that_says_nothing_is_given_twenty_seconds()
    {
        using var silent = new TcpListener(IPAddress.Loopback, 0);
        silent.Start();
        Dictionary<string, string?> settings = new()
        {
            ["Incubation:Mail:Host"] = "127.0.0.1",
            ["Incubation:Mail:Port"] = ((IPEndPoint)silent.LocalEndpoint).Port.ToString(System.Globalization.CultureInfo.InvariantCulture),
            ["Incubation:Mail:Security"] = "none",
            ["Incubation:Mail:From"] = "room@example.org",
        };
        await using NightHouse house = await NightHouse.StartAsync(settings);
        await house.OrderAsync(NightHouse.Mail("Bo", "bo@example.org"));
        await house.DriftAsync();
        using TcpClient held = await silent.AcceptTcpClientAsync(NightHouse.Stop);
        // The client is connected and hears nothing; only the clock of the house ends it.
        await house.WaitAsync(() => house.Get<CallDesk>().Health().Words.Contains("20 s", StringComparison.Ordinal), "the end of patience");
        await AssertFailureIsSeenAsync(house, "did not answer within 20 s");
    }

    [Fact]
    public async Task Refused_for_now_is_tried_again_and_then_arrives()
    {
        await using MailReceiver mail = MailReceiver.Start();
        mail.Refusal = new SmtpResponse((SmtpReplyCode)451, "try later");
        await using NightHouse house = await NightHouse.StartAsync(mail.Settings());
        await house.OrderAsync(NightHouse.Mail("Bo", "bo@example.org"));
        await house.DriftAsync();
        await AssertFailureIsSeenAsync(house, "try later");
        mail.Refusal = null;
        await house.WaitAsync(() => mail.Mails.Count == 1, "the mail");
        await Eventually.TrueAsync(() => house.Get<Outbox>().Count == 0, "the end of the call");
        Assert.Contains(await house.JournalAsync(), l => l.Event == "called");
        JsonElement now = await house.GetAsync("/api/now");
        Assert.DoesNotContain("could not be reached", now.GetProperty("callOut").GetProperty("words").GetString()!, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Refused_for_good_is_not_tried_again_and_stays_visible()
    {
        await using MailReceiver mail = MailReceiver.Start();
        mail.Refusal = new SmtpResponse((SmtpReplyCode)550, "no such person");
        await using NightHouse house = await NightHouse.StartAsync(mail.Settings());
        await house.OrderAsync(NightHouse.Mail("Bo", "bo@example.org"));
        await house.DriftAsync();
        await Eventually.TrueAsync(() => mail.Asked > 0 && house.Get<Outbox>().Count == 0, "the end of the call");
        house.Time.Advance(TimeSpan.FromSeconds(10));
        Assert.Equal(1, mail.Asked);
        await AssertFailureIsSeenAsync(house, "no such person");
    }

    private static async Task AssertFailureIsSeenAsync(NightHouse house, string cause)
    {
        await Eventually.TrueAsync(() => house.Get<CallDesk>().Health().Words.Contains("could not be reached", StringComparison.Ordinal), "the failure");
        CallOutHealth health = house.Get<CallDesk>().Health();
        Assert.False(health.Reachable);
        Assert.Contains(cause, health.Words, StringComparison.OrdinalIgnoreCase);
        List<(string Event, string Words)> journal = [];
        await Eventually.TrueAsync(async () => (journal = await house.JournalAsync()).Exists(l => l.Event == "call failed"), "the line in the journal");
        Assert.Contains(journal, l => l.Event == "call failed" && l.Words.Contains(cause, StringComparison.OrdinalIgnoreCase));
        JsonElement now = await house.GetAsync("/api/now");
        Assert.False(now.GetProperty("callOut").GetProperty("reachable").GetBoolean());
        Assert.Contains(cause, now.GetProperty("callOut").GetProperty("words").GetString()!, StringComparison.OrdinalIgnoreCase);
        Assert.Contains(now.GetProperty("toDo").EnumerateArray(), t => t.GetProperty("what").GetString()!.StartsWith("Bo could not be reached", StringComparison.Ordinal));
    }
}
