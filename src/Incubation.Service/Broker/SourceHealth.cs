namespace Incubation.Service.Broker;

/// <summary>How it stands with an external broker.</summary>
internal enum SourceState
{
    /// <summary>Not heard yet, and not for so long that it means anything.</summary>
    Starting,

    /// <summary>Connected, and our own message comes back.</summary>
    Listening,

    /// <summary>Lost a moment ago; it is being made again.</summary>
    Reconnecting,

    /// <summary>Nothing has come through for too long, connected or not.</summary>
    Broken,
}

/// <summary>
/// Judges by what was heard, never by what a connection says of itself. Pure. Our own message is sent every <paramref name="every"/>;
/// when none came back for <see cref="RebuildAfter"/> the connection is made anew, and after <see cref="BrokenAfter"/> people are told.
/// </summary>
internal sealed class SourceHealth(TimeSpan every)
{
    /// <summary>What the service does unless a test can't wait: told after 60 s, which leaves 30 s for the way to the screen.</summary>
    public static readonly SourceHealth Usual = new(TimeSpan.FromSeconds(15));

    public TimeSpan Every => every;

    /// <summary>How long a ping, or any other call, may take.</summary>
    public TimeSpan Patience => every * (2.0 / 3);

    public TimeSpan RebuildAfter => every * 2.5;

    public TimeSpan BrokenAfter => every * 4;

    /// <param name="connected">Whether there is a connection that accepted our subscription.</param>
    /// <param name="unheardFor">Time since our own message was last heard, or since the start.</param>
    /// <param name="everHeard">Whether it was ever heard.</param>
    public SourceState Judge(bool connected, TimeSpan unheardFor, bool everHeard)
        => unheardFor > BrokenAfter ? SourceState.Broken
            : !everHeard ? SourceState.Starting
            : connected ? SourceState.Listening
            : SourceState.Reconnecting;
}
