namespace Incubation.Service.People;

/// <summary>
/// Slows guessing down. Only wrong tries count, so nobody who knows the password is ever held up by it at three in the morning; and they
/// count by address and by (address, name), so one phone with an old password doesn't lock the house out.
/// </summary>
internal sealed class SignInThrottle(TimeProvider time)
{
    /// <summary>Wrong tries of one name from one address before the pause.</summary>
    public const int MostPerName = 5;

    /// <summary>Wrong tries of any name from one address before the pause.</summary>
    public const int MostPerAddress = 20;

    /// <summary>Keys remembered. At the bound all are forgotten: an attacker with that many addresses isn't slowed by this anyway.</summary>
    public const int MostKeys = 20_000;

    public static readonly TimeSpan Window = TimeSpan.FromMinutes(5);

    private readonly Lock _gate = new();
    private readonly Dictionary<string, (long Since, int Wrong)> _wrong = [];

    /// <summary>How long this caller has to wait, or null when they may try.</summary>
    public TimeSpan? Wait(string address, string name)
    {
        lock (_gate)
        {
            return Longer(Left(address, MostPerAddress), Left(Key(address, name), MostPerName));
        }
    }

    public void Wrong(string address, string name)
    {
        lock (_gate)
        {
            if (_wrong.Count >= MostKeys)
            {
                _wrong.Clear();
            }

            Count(address);
            Count(Key(address, name));
        }
    }

    public void Right(string address, string name)
    {
        lock (_gate)
        {
            _wrong.Remove(address);
            _wrong.Remove(Key(address, name));
        }
    }

    private void Count(string key)
    {
        bool running = _wrong.TryGetValue(key, out (long Since, int Wrong) entry) && time.GetElapsedTime(entry.Since) < Window;
        _wrong[key] = running ? (entry.Since, entry.Wrong + 1) : (time.GetTimestamp(), 1);
    }

    private TimeSpan? Left(string key, int most)
    {
        if (!_wrong.TryGetValue(key, out (long Since, int Wrong) entry) || entry.Wrong < most)
        {
            return null;
        }

        TimeSpan left = Window - time.GetElapsedTime(entry.Since);
        return left > TimeSpan.Zero ? left : null;
    }

    private static TimeSpan? Longer(TimeSpan? a, TimeSpan? b) => a is null || b > a ? b : a;

    private static string Key(string address, string name) => $"{address} {name.Trim().ToUpperInvariant()}";
}
