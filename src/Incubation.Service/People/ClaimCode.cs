using System.Security.Cryptography;
using System.Text;

namespace Incubation.Service.People;

/// <summary>
/// The one-time code that proves that whoever claims the facility can read the log of this machine. Wrong tries use it up: after
/// <see cref="MostTries"/> a new one is made, so that guessing over the network stays hopeless (29^10 codes).
/// </summary>
internal sealed class ClaimCode
{
    public const int Length = 10;

    public const int MostTries = 5;

    // No 0/O, 1/I/L, U/V twins: it is read from a screen and typed on a phone.
    private const string Alphabet = "ABCDEFGHJKMNPQRSTWXYZ23456789";

    private readonly Lock _gate = new();
    private string _code = New();
    private int _wrong;

    /// <summary>The code to show in the log, in two groups.</summary>
    public string Shown
    {
        get
        {
            lock (_gate)
            {
                return $"{_code[..5]}-{_code[5..]}";
            }
        }
    }

    /// <summary>Compares in constant time; spaces, hyphens and case don't matter. <paramref name="replaced"/>: too many wrong tries, a new code holds.</summary>
    public bool Matches(string? tried, out bool replaced)
    {
        replaced = false;
        byte[] given = Encoding.UTF8.GetBytes(Plain(tried ?? ""));
        lock (_gate)
        {
            // Hashes have one length, so the comparison tells nothing about the code's.
            if (CryptographicOperations.FixedTimeEquals(SHA256.HashData(given), SHA256.HashData(Encoding.UTF8.GetBytes(_code))))
            {
                return true;
            }

            if (++_wrong >= MostTries)
            {
                _code = New();
                _wrong = 0;
                replaced = true;
            }

            return false;
        }
    }

    private static string New() => RandomNumberGenerator.GetString(Alphabet, Length);

    private static string Plain(string text)
        => string.Concat(text.Take(64).Where(char.IsAsciiLetterOrDigit)).ToUpperInvariant();
}
