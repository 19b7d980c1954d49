namespace Incubation.Service.Broker;

/// <summary>
/// Recognises two programs under one client id at a broker that does not say so: mosquitto 2.0.11 closes the older connection without a
/// word, though MQTT 5.0 (3.1.4, 3.14.2.1) knows a reason for it. Connections that are let in, heard through and closed within moments, time after
/// time, mean that. Pure.
/// </summary>
internal sealed class ShortLives
{
    /// <summary>A connection that lasted this long was no short one.</summary>
    public static readonly TimeSpan Short = TimeSpan.FromSeconds(30);

    /// <summary>So many in a row are no accident: a broker that restarts does it once.</summary>
    public const int Suspicious = 3;

    private int _inARow;

    /// <summary>Notes the end of a connection; whether it looks as if somebody else had taken it over.</summary>
    /// <param name="kind">Why it ended.</param>
    /// <param name="lasted">From being let in to the end; zero when it was not let in, which tells nothing of rivals.</param>
    public bool Ended(LossKind kind, TimeSpan lasted)
    {
        _inARow = kind == LossKind.Closed && lasted > TimeSpan.Zero && lasted < Short ? _inARow + 1 : 0;
        return _inARow >= Suspicious;
    }
}
