using System.Text;

namespace Incubation.Core.Readings;

/// <summary>
/// Where readings are published, such as <c>incubation/{incubator}/{probe}/{quantity}</c>: levels of fixed text or with a part in braces, which may
/// have fixed text around it (<c>board-{probe}</c>). Tells what a topic is about; immutable and safe from any thread.
/// </summary>
public sealed class TopicTemplate
{
    /// <summary>The template that probes use unless told otherwise.</summary>
    public const string Default = "incubation/{incubator}/{probe}/{quantity}";

    /// <summary>
    /// What stands in the quantity's place in the topic that carries <c>online</c> and <c>offline</c>; a level of its own at the end when the template
    /// has no <c>{quantity}</c>.
    /// </summary>
    public const string StatusLevel = "status";

    private const string StatusEnd = "/" + StatusLevel;

    private readonly string _template;
    private readonly TopicLevel[] _levels;
    private readonly bool _hasQuantity;

    private TopicTemplate(string template, TopicLevel[] levels)
    {
        (_template, _levels) = (template, levels);
        _hasQuantity = levels.Any(l => l.Part == TopicPart.Quantity);
        string filter = string.Join('/', levels.Select(l => l.Filter));
        Filters = _hasQuantity ? [filter] : [filter, filter + StatusEnd];
    }

    /// <summary>The MQTT topic filters that together hear every topic of the template, status topics too, each topic once.</summary>
    public IReadOnlyList<string> Filters { get; }

    /// <summary>The topic on which the service tells sirens about an incubator; a client that publishes there is refused.</summary>
    public static string AlarmTopic(string incubator) => $"incubation/{incubator}/alarm";

    /// <summary>Reads a template.</summary>
    /// <param name="template">
    /// Levels split by <c>/</c>; <c>{probe}</c> once, <c>{quantity}</c> and <c>{incubator}</c> at most once, <c>{any}</c> for levels that don't
    /// matter. Without <c>{quantity}</c> a bare number can't be told, and payloads must name what they measured.
    /// </param>
    /// <param name="parsed">The template, or null.</param>
    /// <param name="reason">What is wrong and what is allowed, or null.</param>
    public static bool TryParse(string template, out TopicTemplate? parsed, out string? reason)
    {
        parsed = null;
        if (Encoding.UTF8.GetByteCount(template) > Limits.TopicBytes)
        {
            reason = $"The topic template is longer than {Limits.TopicBytes} bytes.";
            return false;
        }

        string[] texts = template.Split('/');
        TopicLevel[] levels = new TopicLevel[texts.Length];
        string? wrong = null;
        for (int i = 0; i < levels.Length; i++)
        {
            wrong ??= TopicLevel.TryParse(texts[i], out levels[i]);
        }

        reason = wrong
            ?? (levels.Count(l => l.Part == TopicPart.Probe) != 1 ? "The topic template needs {probe} once."
            : levels.Count(l => l.Part == TopicPart.Quantity) > 1 ? "The topic template may have {quantity} once only."
            : levels.Count(l => l.Part == TopicPart.Incubator) > 1 ? "The topic template may have {incubator} once only."
            : null);
        parsed = reason is null ? new TopicTemplate(template, levels) : null;
        return reason is null;
    }

    /// <summary>Tells what a topic is about. Takes the names' strings from the heap and nothing else; hosts may remember the answer by topic.</summary>
    public TopicMatch Match(string topic)
    {
        if (IsServiceAlarm(topic))
        {
            return TopicMatch.Of(TopicKind.ServiceAlarm);
        }

        if (topic.StartsWith('$'))
        {
            // Brokers keep these for themselves, and no wildcard hears them (MQTT 5.0, section 4.7.2).
            return TopicMatch.Of(TopicKind.Elsewhere);
        }

        if (topic.Length > Limits.TopicBytes || Encoding.UTF8.GetByteCount(topic) > Limits.TopicBytes)
        {
            return TopicMatch.Unreadable("The topic is too long. Use short names.");
        }

        int levels = topic.AsSpan().Count('/') + 1;
        bool status = !_hasQuantity && levels == _levels.Length + 1 && topic.EndsWith(StatusEnd, StringComparison.Ordinal);
        ReadOnlySpan<char> rest = status ? topic.AsSpan(0, topic.Length - StatusEnd.Length) : topic;
        if (levels != _levels.Length && !status)
        {
            return IsOurs(rest) ? TopicMatch.Unreadable(WrongShape()) : TopicMatch.Of(TopicKind.Elsewhere);
        }

        return Match(rest, status);
    }

    private TopicMatch Match(ReadOnlySpan<char> rest, bool status)
    {
        string? incubator = null, probe = null, reason = null;
        Quantity quantity = default;
        for (int i = 0; i < _levels.Length; i++)
        {
            int slash = rest.IndexOf('/');
            ReadOnlySpan<char> level = slash < 0 ? rest : rest[..slash];
            rest = slash < 0 ? default : rest[(slash + 1)..];
            if (!_levels[i].TryMatch(level, out ReadOnlySpan<char> part))
            {
                return i == 0 ? TopicMatch.Of(TopicKind.Elsewhere) : TopicMatch.Unreadable(WrongShape());
            }

            switch (_levels[i].Part)
            {
                case TopicPart.Incubator:
                    incubator = ReadName(part, ref reason);
                    break;
                case TopicPart.Probe:
                    probe = ReadName(part, ref reason);
                    break;
                case TopicPart.Quantity:
                    status = part is StatusLevel;
                    quantity = status ? default : ReadQuantity(part, ref reason);
                    break;
            }
        }

        return reason is not null ? TopicMatch.Unreadable(reason)
            : TopicMatch.Of(status ? TopicKind.ProbeStatus : TopicKind.Reading, incubator, probe, quantity);
    }

    private string WrongShape() => $"The topic isn't {_template}. Publish there, or change Incubation:Mqtt:Topic.";

    // A topic of a wrong shape is meant for us when it begins as ours do and has more than one level.
    private bool IsOurs(ReadOnlySpan<char> topic)
    {
        int slash = topic.IndexOf('/');
        return slash >= 0 && _levels[0].TryMatch(topic[..slash], out _);
    }

    private static bool IsServiceAlarm(string topic)
    {
        const string start = "incubation/", end = "/alarm";
        return topic.Length > start.Length + end.Length
            && topic.StartsWith(start, StringComparison.Ordinal) && topic.EndsWith(end, StringComparison.Ordinal)
            && !topic.AsSpan(start.Length, topic.Length - start.Length - end.Length).Contains('/');
    }

    private static string? ReadName(ReadOnlySpan<char> level, ref string? reason)
    {
        if (level.IsEmpty || level.Length > Limits.NameLength || level.IsWhiteSpace())
        {
            reason ??= "A name in the topic is empty or longer than 80 characters. Use the probe's own short name.";
            return null;
        }

        foreach (char c in level)
        {
            if (char.IsControl(c) || c is '+' or '#')
            {
                reason ??= "A name in the topic has a control character, + or #. Use letters, digits and hyphens.";
                return null;
            }
        }

        return level.ToString();
    }

    private static Quantity ReadQuantity(ReadOnlySpan<char> level, ref string? reason)
    {
        for (int i = 0; i < Quantity.Known.Count; i++)
        {
            if (level.SequenceEqual(Quantity.Known[i].Name))
            {
                return Quantity.Known[i];
            }
        }

        if (!Quantity.IsName(level))
        {
            reason ??= "The quantity in the topic isn't 1 to 40 characters of a-z, 0-9 and hyphen. Use temperature or humidity.";
            return default;
        }

        return new Quantity(level.ToString());
    }
}
