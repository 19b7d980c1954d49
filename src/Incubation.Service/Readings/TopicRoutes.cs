using System.Collections.Concurrent;
using Incubation.Core;
using Incubation.Core.Readings;
using Incubation.Service.Hosting;
using Incubation.Service.Probes;
using Microsoft.Extensions.Options;

namespace Incubation.Service.Readings;

/// <summary>What the service remembers of one series between its messages.</summary>
internal sealed class SeriesIntake
{
    public Lock Gate { get; } = new();

    public ReadingMemory? Memory { get; set; }
}

/// <summary>What a topic is about, with what is remembered of its series.</summary>
internal sealed class TopicRoute(TopicMatch match, SeriesIntake? series)
{
    public TopicMatch Match => match;

    /// <summary>Only of a reading.</summary>
    public SeriesIntake Series => series!;

    /// <summary>The probe, once a reading of it was taken.</summary>
    public KnownProbe? Probe { get; set; }
}

/// <summary>Finds the route of a topic. The topics of readings are parsed once.</summary>
internal sealed class TopicRoutes
{
    // A probe has a handful of quantities. Beyond the bound topics are parsed each time, which is slower and no more.
    private const int Most = Limits.Probes * 4;

    private readonly TopicTemplate _template;
    private readonly ConcurrentDictionary<string, TopicRoute> _routes = new(StringComparer.Ordinal);
    private readonly ConcurrentDictionary<SeriesKey, SeriesIntake> _series = new();
    private int _count;

    public TopicRoutes(IOptions<IncubationOptions> options)
    {
        if (!TopicTemplate.TryParse(options.Value.Mqtt.Topic, out TopicTemplate? template, out string? reason))
        {
            throw new OptionsValidationException(IncubationOptions.Section, typeof(IncubationOptions), [$"Incubation:Mqtt:Topic: {reason}"]);
        }

        _template = template!;
        NotOurs = $"Nothing listens on this topic. Publish to {options.Value.Mqtt.Topic}, or change Incubation:Mqtt:Topic.";
    }

    /// <summary>Why a message on a topic of no known shape is in the list.</summary>
    public string NotOurs { get; }

    public TopicRoute Of(string topic)
    {
        if (_routes.TryGetValue(topic, out TopicRoute? route))
        {
            return route;
        }

        TopicMatch match = _template.Match(topic);
        if (match.Kind != TopicKind.Reading)
        {
            return new TopicRoute(match, null);
        }

        SeriesKey key = new(match.Probe!, match.Quantity);
        return new TopicRoute(match, _series.TryGetValue(key, out SeriesIntake? series) ? series : new SeriesIntake());
    }

    /// <summary>Remembers the route of a topic on which a good message came, so that rubbish takes no memory.</summary>
    public TopicRoute Keep(string topic, TopicRoute route)
    {
        SeriesIntake series = _series.GetOrAdd(new SeriesKey(route.Match.Probe!, route.Match.Quantity), route.Series);
        TopicRoute kept = series == route.Series ? route : new TopicRoute(route.Match, series);
        kept.Probe = route.Probe;
        if (Volatile.Read(ref _count) < Most && _routes.TryAdd(topic, kept))
        {
            Interlocked.Increment(ref _count);
        }

        return kept;
    }

    /// <summary>Remembers the last good value of a series from before the start.</summary>
    public void Load(in Reading good)
        => _series.GetOrAdd(good.Series, static _ => new SeriesIntake()).Memory = new ReadingMemory(good.Value, good.At);
}
