using System.Buffers;
using System.Text;

namespace Incubation.Core.Readings;

/// <summary>
/// Where readings are published, such as <c>incubation/{incubator}/{probe}/{quantity}</c>: literal levels and the parts in braces, each a whole
/// level. Tells what a topic is about; immutable and safe from any thread.
/// </summary>
public sealed class TopicTemplate
{
    /// <summary>The template that probes use unless told otherwise.</summary>
    public const string Default = "incubation/{incubator}/{probe}/{quantity}";

    /// <summary>What stands in the quantity's place in the topic that carries <c>online</c> and <c>offline</c>.</summary>
    public const string StatusLevel = "status";

    private const string Incubator = "{incubator}", Probe = "{probe}", QuantityPart = "{quantity}";
    private const int LongestQuantity = 40;

    private static readonly SearchValues<char> QuantityCharacters = SearchValues.Create("abcdefghijklmnopqrstuvwxyz0123456789-");

    private readonly string[] _levels;

    private TopicTemplate(string[] levels)
    {
        _levels = levels;
        Filter = string.Join('/', levels.Select(l => l[0] == '{' ? "+" : l));
    }

    /// <summary>The MQTT topic filter that hears every topic of the template, status topics too.</summary>
    public string Filter { get; }

    /// <summary>The topic on which the service tells sirens about an incubator; a client that publishes there is refused.</summary>
    public static string AlarmTopic(string incubator) => $"incubation/{incubator}/alarm";

    /// <summary>Reads a template.</summary>
    /// <param name="template">Levels split by <c>/</c>; <c>{probe}</c> and <c>{quantity}</c> once each, <c>{incubator}</c> at most once.</param>
    /// <param name="parsed">The template, or null.</param>
    /// <param name="reason">What is wrong and what is allowed, or null.</param>
    public static bool TryParse(string template, out TopicTemplate? parsed, out string? reason)
    {
        parsed = null;
        string[] levels = template.Split('/');
        reason = Encoding.UTF8.GetByteCount(template) > Limits.TopicBytes ? $"The topic template is longer than {Limits.TopicBytes} bytes."
            : levels.Count(l => l == Probe) != 1 ? "The topic template needs {probe} once, as a level of its own."
            : levels.Count(l => l == QuantityPart) != 1 ? "The topic template needs {quantity} once, as a level of its own."
            : levels.Count(l => l == Incubator) > 1 ? "The topic template may have {incubator} once only."
            : levels.Where(l => l is not (Probe or QuantityPart or Incubator)).Select(WrongLevel).FirstOrDefault(w => w is not null);
        if (reason is not null)
        {
            return false;
        }

        parsed = new TopicTemplate(levels);
        return true;
    }

    /// <summary>Tells what a topic is about. Takes the names' strings from the heap and nothing else; hosts may remember the answer by topic.</summary>
    public TopicMatch Match(string topic)
    {
        if (IsServiceAlarm(topic))
        {
            return TopicMatch.Of(TopicKind.ServiceAlarm);
        }

        if (topic.Length > Limits.TopicBytes || Encoding.UTF8.GetByteCount(topic) > Limits.TopicBytes)
        {
            return TopicMatch.Unreadable("The topic is too long. Use short names.");
        }

        ReadOnlySpan<char> rest = topic;
        string? incubator = null, probe = null, reason = null;
        Quantity quantity = default;
        bool status = false;
        for (int i = 0; i < _levels.Length; i++)
        {
            bool last = i == _levels.Length - 1;
            int slash = rest.IndexOf('/');
            if (slash < 0 != last)
            {
                return i == 0 || !StartsLikeOurs(topic) ? TopicMatch.Of(TopicKind.Elsewhere) : TopicMatch.Unreadable(WrongShape());
            }

            ReadOnlySpan<char> level = last ? rest : rest[..slash];
            rest = last ? default : rest[(slash + 1)..];
            switch (_levels[i])
            {
                case Incubator:
                    incubator = ReadName(level, ref reason);
                    break;
                case Probe:
                    probe = ReadName(level, ref reason);
                    break;
                case QuantityPart:
                    status = level is StatusLevel;
                    quantity = status ? default : ReadQuantity(level, ref reason);
                    break;
                default:
                    if (!level.SequenceEqual(_levels[i]))
                    {
                        return i == 0 ? TopicMatch.Of(TopicKind.Elsewhere) : TopicMatch.Unreadable(WrongShape());
                    }

                    break;
            }
        }

        return reason is not null ? TopicMatch.Unreadable(reason)
            : TopicMatch.Of(status ? TopicKind.ProbeStatus : TopicKind.Reading, incubator, probe, quantity);
    }

    private string WrongShape() => $"The topic isn't {string.Join('/', _levels)}. Publish there, or change Incubation:Mqtt:Topic.";

    // A template whose first level is a name claims every topic; then only the shape tells.
    private bool StartsLikeOurs(string topic) => _levels[0][0] == '{' || topic.AsSpan().StartsWith(_levels[0]);

    private static bool IsServiceAlarm(string topic)
    {
        const string start = "incubation/", end = "/alarm";
        return topic.Length > start.Length + end.Length
            && topic.StartsWith(start, StringComparison.Ordinal) && topic.EndsWith(end, StringComparison.Ordinal)
            && !topic.AsSpan(start.Length, topic.Length - start.Length - end.Length).Contains('/');
    }

    private static string? WrongLevel(string level) =>
        level.Length == 0 ? "The topic template has an empty level."
        : level.AsSpan().IndexOfAny("+#{}") >= 0 ? $"The topic template's level {level} may not have + # {{ or }}."
        : level[0] == '$' ? "The topic template may not start a level with $, which brokers keep for themselves."
        : null;

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
        if (level is "temperature")
        {
            return Quantity.Temperature;
        }

        if (level is "humidity")
        {
            return Quantity.Humidity;
        }

        if (level.IsEmpty || level.Length > LongestQuantity || level.IndexOfAnyExcept(QuantityCharacters) >= 0)
        {
            reason ??= "The quantity in the topic isn't 1 to 40 characters of a-z, 0-9 and hyphen. Use temperature or humidity.";
            return default;
        }

        return new Quantity(level.ToString());
    }
}
