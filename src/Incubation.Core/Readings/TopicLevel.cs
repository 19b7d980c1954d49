namespace Incubation.Core.Readings;

/// <summary>What a level of a topic template takes.</summary>
internal enum TopicPart
{
    /// <summary>Fixed text.</summary>
    Text,
    Incubator,
    Probe,
    Quantity,

    /// <summary>Anything; it is not used.</summary>
    Any,
}

/// <summary>One level of a topic template: fixed text, or a part in braces, which may have fixed text around it.</summary>
/// <param name="Part">What it takes.</param>
/// <param name="Before">The fixed text, or what stands before the part.</param>
/// <param name="After">What stands after the part.</param>
internal readonly record struct TopicLevel(TopicPart Part, string Before, string After)
{
    /// <summary>The level in a topic filter.</summary>
    public string Filter => Part == TopicPart.Text ? Before : "+";

    /// <summary>Reads a level; gives the reason when it can't.</summary>
    public static string? TryParse(string level, out TopicLevel parsed)
    {
        parsed = new TopicLevel(TopicPart.Text, level, "");
        if (level.Length == 0)
        {
            return "The topic template has an empty level.";
        }

        int open = level.IndexOf('{', StringComparison.Ordinal), close = level.IndexOf('}', StringComparison.Ordinal);
        if (open >= 0 && close > open)
        {
            TopicPart? part = level[(open + 1)..close] switch
            {
                "incubator" => TopicPart.Incubator,
                "probe" => TopicPart.Probe,
                "quantity" => TopicPart.Quantity,
                "any" => TopicPart.Any,
                _ => null,
            };
            if (part is null)
            {
                return $"The topic template's level {level} has an unknown part. Allowed: {{incubator}}, {{probe}}, {{quantity}}, {{any}}.";
            }

            parsed = new TopicLevel(part.Value, level[..open], level[(close + 1)..]);
        }

        return $"{parsed.Before}{parsed.After}".AsSpan().IndexOfAny("+#{}") >= 0
            ? $"The topic template's level {level} may not have + or #, nor more than one part in braces."
            : level[0] == '$' ? "The topic template may not start a level with $, which brokers keep for themselves."
            : null;
    }

    /// <summary>Whether a topic's level has this one's fixed text; gives what stands in the part's place.</summary>
    public bool TryMatch(ReadOnlySpan<char> level, out ReadOnlySpan<char> part)
    {
        part = default;
        if (Part == TopicPart.Text)
        {
            return level.SequenceEqual(Before);
        }

        if (level.Length < Before.Length + After.Length || !level.StartsWith(Before) || !level.EndsWith(After))
        {
            return false;
        }

        part = level[Before.Length..^After.Length];
        return true;
    }
}
