using System.Net;
using System.Net.Sockets;
using System.Text;
using Incubation.Service.Hosting;
using MailKit;
using MailKit.Net.Smtp;
using MailKit.Security;
using Microsoft.Extensions.Options;
using MimeKit;
using MimeKit.Utils;

namespace Incubation.Service.Calling;

/// <summary>Sends plain-text mail: one connection for each message, since idle ones die and a client is not for two at once.</summary>
/// <param name="options">Which server.</param>
/// <param name="clock">Time.</param>
/// <param name="trust">Another judge of certificates than the machine's; only tests have one.</param>
internal sealed class MailSender(IOptionsMonitor<IncubationOptions> options, ServiceClock clock, ReceiverTrust? trust = null) : ICallSender
{
    private static readonly TimeSpan Limit = TimeSpan.FromSeconds(20);

    public string Channel => "mail";

    public async Task<SendResult> SendAsync(OutgoingCall call, CancellationToken cancellationToken)
    {
        MailOptions mail = options.CurrentValue.Mail;
        if (Missing(mail) is { } missing)
        {
            return new SendResult(false, missing);
        }

        using var limit = new CancellationTokenSource(Limit, clock.Provider);
        using var both = CancellationTokenSource.CreateLinkedTokenSource(limit.Token, cancellationToken);
        try
        {
            using MimeMessage message = Compose(call, mail);
            using var client = new SmtpClient { Timeout = (int)Limit.TotalMilliseconds, CheckCertificateRevocation = mail.CheckRevocation };
            client.ServerCertificateValidationCallback = trust?.Judge;
            await client.ConnectAsync(mail.Host!, mail.Port, Security(mail), both.Token);
            if (!string.IsNullOrEmpty(mail.User))
            {
                await client.AuthenticateAsync(mail.User, mail.Password ?? "", both.Token);
            }

            await client.SendAsync(message, both.Token);
            await ByeAsync(client, both.Token);
            return SendResult.Ok;
        }
        catch (OperationCanceledException) when (!cancellationToken.IsCancellationRequested)
        {
            return new SendResult(false, "The mail server did not answer within 20 s.");
        }
        catch (SmtpCommandException error) when (error.ErrorCode == SmtpErrorCode.RecipientNotAccepted && (int)error.StatusCode >= 500)
        {
            return new SendResult(false, $"The mail server refuses the address {call.Address}: {Failures.Words(error)}", Final: true);
        }
        catch (Exception error) when (error is ProtocolException or CommandException or AuthenticationException or SslHandshakeException
            or SocketException or IOException or InvalidOperationException or NotSupportedException or FormatException)
        {
            return new SendResult(false, Failures.Words(error));
        }
    }

    private static string? Missing(MailOptions mail)
    {
        if (string.IsNullOrWhiteSpace(mail.Host) || string.IsNullOrWhiteSpace(mail.From))
        {
            return "No mail server is set. Set Incubation:Mail:Host and Incubation:Mail:From.";
        }

        return mail.Security == "none" && !IsThisMachine(mail.Host)
            ? "Mail without TLS is only sent to this machine. Set Incubation:Mail:Security to starttls or tls."
            : null;
    }

    private static bool IsThisMachine(string host)
        => host.Equals("localhost", StringComparison.OrdinalIgnoreCase) || (IPAddress.TryParse(host, out IPAddress? address) && IPAddress.IsLoopback(address));

    private static SecureSocketOptions Security(MailOptions mail) => mail.Security switch
    {
        "tls" => SecureSocketOptions.SslOnConnect,
        "none" => SecureSocketOptions.None,
        _ => SecureSocketOptions.StartTls,
    };

    // Once the server has the message, a clumsy goodbye must not make it count as undelivered and be sent twice.
    private static async Task ByeAsync(SmtpClient client, CancellationToken token)
    {
        try
        {
            await client.DisconnectAsync(quit: true, token);
        }
        catch (Exception error) when (error is ProtocolException or CommandException or IOException or SocketException or OperationCanceledException)
        {
            // It has the message.
        }
    }

    private MimeMessage Compose(OutgoingCall call, MailOptions mail)
    {
        MailboxAddress from = MailboxAddress.Parse(mail.From!);
        string domain = from.Domain;
        var message = new MimeMessage
        {
            Subject = OneLine(call.Message.Line),
            Date = clock.Wall.ToDateTimeOffset(),
            MessageId = $"{call.Id}@{domain}",
            Body = new TextPart("plain") { Text = Text(call) },
        };
        message.From.Add(new MailboxAddress("Incubation", from.Address));
        message.To.Add(new MailboxAddress(OneLine(call.Who), MailboxAddress.Parse(call.Address).Address));
        // All mails about one occurrence hang on one root that was never sent, so that mail programs show them as one thread.
        message.References.Add(MimeUtils.EnumerateReferences($"<occurrence_{call.Occurrence:N}@{domain}>").First());
        message.Headers.Add(HeaderId.AutoSubmitted, "auto-generated");
        message.Importance = call.Message.Data.Severity == "danger" ? MessageImportance.High : MessageImportance.Normal;
        return message;
    }

    private static string Text(OutgoingCall call)
    {
        var text = new StringBuilder(OneLine(call.Message.Data.Words)).Append("\n\n");
        if (call.Message.Type == CallMessage.Test)
        {
            return text.Append("Open this link and press the button to prove that calls reach you:\n").Append(call.AnswerUrl).Append('\n').ToString();
        }

        if (call.AnswerUrl is not null)
        {
            text.Append("Say \"I am on it\" here; until someone does, calls go on:\n").Append(call.AnswerUrl).Append('\n');
        }

        return text.Append("\nIncubation informs; it is no safety device.\n").ToString();
    }

    // Names come from people and probes: a line break in one must not become a header.
    private static string OneLine(string text) => string.Concat(text.Select(c => char.IsControl(c) ? ' ' : c));
}
