using System.Collections.Concurrent;
using System.Security.Cryptography;
using System.Text;
using Incubation.Service.Alarms;
using Incubation.Service.Hosting;
using Incubation.Storage.Records;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.WebUtilities;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;

namespace Incubation.Service.Calling;

/// <summary>Links by which one person answers one occurrence: 256 random bits, of which only the SHA-256 is kept.</summary>
internal sealed class AnswerLinks(
    IDbContextFactory<RecordsContext> records, RecordsWriter writer, ServiceClock clock, IOptionsMonitor<IncubationOptions> options,
    IServiceProvider services)
{
    private const int TokenBytes = 32;
    private const int MostInMemory = 10_000;

    private readonly ConcurrentDictionary<string, AnswerLinkRecord> _recent = new(StringComparer.Ordinal);

    /// <summary>Makes a link.</summary>
    /// <param name="occurrence">What it answers: an occurrence of an alarm, or a test.</param>
    /// <param name="who">Who answers by it.</param>
    /// <param name="written">Completes when the link is on disk.</param>
    public string Make(Guid occurrence, string who, out Task written)
    {
        string token = WebEncoders.Base64UrlEncode(RandomNumberGenerator.GetBytes(TokenBytes));
        var link = new AnswerLinkRecord { TokenHash = Hash(token), Occurrence = occurrence, Who = who, CreatedAt = clock.Wall };
        if (_recent.Count >= MostInMemory)
        {
            // All but those of a very long night are on disk by now.
            _recent.Clear();
        }

        _recent[link.TokenHash] = link;
        written = writer.Add(async (context, cancel) =>
        {
            if (await context.AnswerLinks.FindAsync([link.TokenHash], cancel) is null)
            {
                context.AnswerLinks.Add(new AnswerLinkRecord
                {
                    TokenHash = link.TokenHash,
                    Occurrence = link.Occurrence,
                    Who = link.Who,
                    CreatedAt = link.CreatedAt,
                });
            }
        });
        return $"{Address()}/answer/{token}";
    }

    /// <summary>What a token stands for, or null when it is unknown.</summary>
    public async Task<AnswerLinkRecord?> FindAsync(string token, CancellationToken cancellationToken)
    {
        if (token.Length != WebEncoders.Base64UrlEncode(new byte[TokenBytes]).Length)
        {
            return null;
        }

        string hash = Hash(token);
        if (_recent.TryGetValue(hash, out AnswerLinkRecord? link))
        {
            return link;
        }

        await using RecordsContext context = await records.CreateDbContextAsync(cancellationToken);
        return await context.AnswerLinks.AsNoTracking().FirstOrDefaultAsync(l => l.TokenHash == hash, cancellationToken);
    }

    private string Address()
    {
        HttpOptions http = options.CurrentValue.Http;
        if (!string.IsNullOrWhiteSpace(http.PublicAddress))
        {
            return http.PublicAddress.TrimEnd('/');
        }

        // A free port was asked for: the server knows which it got.
        int port = http.Port != 0 ? http.Port : services.GetService<IServer>()?.Features.Get<IServerAddressesFeature>()?.Addresses
            .Select(a => Uri.TryCreate(a, UriKind.Absolute, out Uri? uri) && uri.Scheme.StartsWith("http", StringComparison.Ordinal) ? uri.Port : 0)
            .FirstOrDefault(p => p > 0) ?? 0;
        return string.Create(System.Globalization.CultureInfo.InvariantCulture, $"http://localhost:{port}");
    }

    private static string Hash(string token) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(token)));
}
