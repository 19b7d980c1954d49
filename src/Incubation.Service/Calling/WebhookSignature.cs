using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace Incubation.Service.Calling;

/// <summary>Signature of the Standard Webhooks scheme, version 1: HMAC-SHA256 over id, time and body with the decoded secret.</summary>
internal static class WebhookSignature
{
    public const string SecretPrefix = "whsec_";

    /// <summary>The key inside a secret, or null when it is not one: <c>whsec_</c> and base64 of 24 to 64 bytes.</summary>
    public static byte[]? Key(string? secret)
    {
        if (secret is null || !secret.StartsWith(SecretPrefix, StringComparison.Ordinal))
        {
            return null;
        }

        Span<byte> key = stackalloc byte[128];
        return Convert.TryFromBase64String(secret[SecretPrefix.Length..], key, out int length) && length is >= 24 and <= 64
            ? key[..length].ToArray()
            : null;
    }

    /// <summary>Value of the header <c>webhook-signature</c>.</summary>
    public static string Sign(byte[] key, string id, long unixSeconds, ReadOnlySpan<byte> body)
    {
        byte[] head = Encoding.UTF8.GetBytes(string.Create(CultureInfo.InvariantCulture, $"{id}.{unixSeconds}."));
        using var hmac = IncrementalHash.CreateHMAC(HashAlgorithmName.SHA256, key);
        hmac.AppendData(head);
        hmac.AppendData(body);
        return "v1," + Convert.ToBase64String(hmac.GetHashAndReset());
    }
}
