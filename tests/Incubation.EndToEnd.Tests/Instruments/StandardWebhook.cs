using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace Incubation.EndToEnd.Tests.Instruments;

/// <summary>
/// Checks a webhook's signature, written from the specification alone. Source: Standard Webhooks specification (spec/standard-webhooks.md):
/// HMAC-SHA256 over <c>id.timestamp.body</c> with the base64-decoded secret, as <c>v1,base64</c>, several separated by spaces.
/// </summary>
internal static class StandardWebhook
{
    /// <summary>Null when the message is genuine and fresh, else what is wrong with it.</summary>
    public static string? Fault(string secret, string? id, string? timestamp, string? signatures, byte[] body, DateTimeOffset now)
    {
        if (string.IsNullOrEmpty(id) || string.IsNullOrEmpty(timestamp) || string.IsNullOrEmpty(signatures))
        {
            return "a header is missing";
        }

        if (!long.TryParse(timestamp, NumberStyles.None, CultureInfo.InvariantCulture, out long seconds) || Math.Abs(now.ToUnixTimeSeconds() - seconds) > 300)
        {
            return $"the timestamp {timestamp} is no fresh Unix time";
        }

        byte[] expected = Sign(secret, id, timestamp, body);
        return signatures.Split(' ').Any(signature => Matches(signature, expected)) ? null : "no signature matches";
    }

    public static byte[] Sign(string secret, string id, string timestamp, byte[] body)
    {
        byte[] key = Convert.FromBase64String(secret.StartsWith("whsec_", StringComparison.Ordinal) ? secret[6..] : secret);
        return HMACSHA256.HashData(key, (byte[])[.. Encoding.UTF8.GetBytes($"{id}.{timestamp}."), .. body]);
    }

    private static bool Matches(string signature, byte[] expected)
    {
        byte[] given = new byte[expected.Length];
        return signature.StartsWith("v1,", StringComparison.Ordinal)
            && Convert.TryFromBase64String(signature[3..], given, out int length) && length == expected.Length
            && CryptographicOperations.FixedTimeEquals(given, expected);
    }
}
