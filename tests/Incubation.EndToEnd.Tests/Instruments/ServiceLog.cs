using System.Text;
using System.Text.RegularExpressions;

namespace Incubation.EndToEnd.Tests.Instruments;

/// <summary>Everything the service has written, and waiting for a line of it.</summary>
internal sealed class ServiceLog
{
    private readonly Lock _gate = new();
    private readonly StringBuilder _text = new();

    public string Text
    {
        get
        {
            lock (_gate)
            {
                return _text.ToString();
            }
        }
    }

    public void Add(string? line)
    {
        if (line is not null)
        {
            lock (_gate)
            {
                _text.AppendLine(line);
            }
        }
    }

    public Task<Match> WaitForAsync(Regex pattern, TimeSpan limit, CancellationToken stop)
        => Waiting.ForAsync(() => pattern.Match(Text) is { Success: true } match ? match : null, limit, $"a line like {pattern} in the log", stop);

    public string Tail => Text.Length > 4000 ? Text[^4000..] : Text;
}
