using System.Text;
using Microsoft.AspNetCore.Connections;

namespace Incubation.Service.Demo;

/// <summary>As much of SMTP (RFC 5321) as a client needs to hand over a mail; it relays nothing and keeps nothing.</summary>
internal static class DemoMailServer
{
    private const int MostLines = 20_000, LongestLine = 4_000;

    public static async Task ServeAsync(ConnectionContext connection, Action<string> arrived)
    {
        using var reader = new StreamReader(connection.Transport.Input.AsStream(), Encoding.UTF8);
        await using var writer = new StreamWriter(connection.Transport.Output.AsStream(), new UTF8Encoding(false)) { NewLine = "\r\n", AutoFlush = true };
        try
        {
            await writer.WriteLineAsync("220 demo ready");
            for (var lines = 0; lines < MostLines && await reader.ReadLineAsync(connection.ConnectionClosed) is { } line; lines++)
            {
                var verb = line.Length > LongestLine ? "" : line.Split(' ', 2)[0].ToUpperInvariant();
                if (verb == "DATA")
                {
                    await writer.WriteLineAsync("354 go on, end with a dot");
                    if (await ReadMailAsync(reader, connection.ConnectionClosed) is not { } subject)
                    {
                        return;
                    }
                    arrived(subject);
                }
                await writer.WriteLineAsync(Reply(verb));
                if (verb == "QUIT")
                {
                    return;
                }
            }
        }
        catch (Exception error) when (error is IOException or OperationCanceledException)
        {
            // The client went away: nothing is owed to it.
        }
    }

    private static string Reply(string verb) => verb switch
    {
        "EHLO" => "250-demo\r\n250-SMTPUTF8\r\n250 8BITMIME",
        "HELO" or "MAIL" or "RCPT" or "DATA" or "RSET" or "NOOP" => "250 ok",
        "QUIT" => "221 goodbye",
        _ => "502 not known here",
    };

    /// <summary>Reads to the lone dot; the subject, or null when the client went away or sent more than any call is long.</summary>
    private static async Task<string?> ReadMailAsync(StreamReader reader, CancellationToken stop)
    {
        var subject = "";
        for (var lines = 0; lines < MostLines; lines++)
        {
            var line = await reader.ReadLineAsync(stop);
            if (line is null or ".")
            {
                return line is null ? null : subject;
            }
            if (subject.Length == 0 && line.StartsWith("Subject:", StringComparison.OrdinalIgnoreCase))
            {
                subject = line["Subject:".Length..].Trim();
            }
        }
        return null;
    }
}
