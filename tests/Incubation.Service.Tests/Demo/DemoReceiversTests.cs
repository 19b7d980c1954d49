using System.Net;
using Incubation.Service.Demo;
using MailKit.Net.Smtp;
using MailKit.Security;
using Microsoft.Extensions.Logging.Abstractions;
using MimeKit;
using Xunit;

namespace Incubation.Service.Tests.Demo;

public sealed class DemoReceiversTests
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    // A real client holds the conversation: MailKit, as the service itself uses (RFC 5321).
    [Fact]
    public async Task A_mail_is_taken_by_the_mail_server()
    {
        await using var receivers = await DemoReceivers.StartAsync(NullLogger<DemoReceivers>.Instance);
        using var client = new SmtpClient();
        await client.ConnectAsync("127.0.0.1", receivers.MailPort, SecureSocketOptions.None, Stop);
        for (var i = 0; i < 2; i++)
        {
            var mail = new MimeMessage { Subject = "Juniper is above 32.2 °C" };
            mail.From.Add(MailboxAddress.Parse("incubation@eggroom.invalid"));
            mail.To.Add(MailboxAddress.Parse("maren@eggroom.invalid"));
            // A line that begins with a dot is doubled on the way and must not end the mail.
            mail.Body = new TextPart("plain") { Text = "first\r\n.\r\nSubject: not this\r\nlast" };
            await client.SendAsync(mail, Stop);
        }
        await client.DisconnectAsync(true, Stop);
        Assert.Equal(2, receivers.Mails);
    }

    [Fact]
    public async Task A_webhook_is_answered_with_no_content_and_one_that_is_too_large_is_not()
    {
        await using var receivers = await DemoReceivers.StartAsync(NullLogger<DemoReceivers>.Instance);
        using var client = new HttpClient();
        using var small = new StringContent("""{"type":"alarm.raised"}""");
        using var answer = await client.PostAsync(receivers.WebhookAddress, small, Stop);
        Assert.Equal(HttpStatusCode.NoContent, answer.StatusCode);
        using var large = new ByteArrayContent(new byte[DemoReceivers.BodyBytes + 1]);
        using var refused = await client.PostAsync(receivers.WebhookAddress, large, Stop);
        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, refused.StatusCode);
        Assert.Equal(1, receivers.Hooks);
    }

    [Fact]
    public async Task Both_listen_on_loopback_only()
    {
        await using var receivers = await DemoReceivers.StartAsync(NullLogger<DemoReceivers>.Instance);
        var listeners = System.Net.NetworkInformation.IPGlobalProperties.GetIPGlobalProperties().GetActiveTcpListeners()
            .Where(l => l.Port == receivers.MailPort || l.Port == receivers.WebhookAddress.Port).ToList();
        Assert.Equal(2, listeners.Count);
        Assert.All(listeners, l => Assert.Equal(IPAddress.Loopback, l.Address));
    }
}
