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
    private readonly Lock _gate = new();
    private ReadingMemory? _memory;

    public ReadingMemory? Memory
    {
        get
        {
            lock (_gate)
            {
                return _memory;
            }
        }

        set
        {
            lock (_gate)
            {
                _memory = value;
            }
        }
    }
}

/// <summary>What a topic is about, with what is remembered of its own series at hand; others are looked up.</summary>
internal sealed class TopicRoute(TopicMatch match, SeriesIntake? series, TopicRoutes routes) : ISeriesMemory
{
    public TopicMatch Match => match;

    /// <summary>What the topic says was measured; null when it says nothing.</summary>
    public Quantity? Quantity { get; } = match.Quantity.Name is null ? null : match.Quantity;

    /// <summary>Of the topic's own series; only when it names a quantity.</summary>
    public SeriesIntake? Series => series;

    /// <summary>The probe, once a reading of it was taken.</summary>
    public KnownProbe? Probe { get; set; }

    /// <summary>Whether a series is the topic's own.</summary>
    public bool IsOwn(in SeriesKey key)
        => series is not null && ReferenceEquals(key.Probe, match.Probe) && key.Quantity == match.Quantity;

    public ReadingMemory? Recall(in SeriesKey key) => IsOwn(key) ? series!.Memory : routes.Recall(key);
}

/// <summary>Finds the route of a topic. The topics of readings are parsed once.</summary>
internal sealed class TopicRoutes
{
    // A probe has a handful of quantities. Beyond the bound topics are parsed each time, which is slower and no more.
    private const int Most = Limits.Probes * 4;

    private readonly TopicTemplate _template;
    private readonly ConcurrentDictionary<string, TopicRoute> _routes = new(StringComparer.Ordinal);
    private readonly ConcurrentDictionary<SeriesKey, SeriesIntake> _series = new();
    private readonly ConcurrentDictionary<string, int> _quantities = new(StringComparer.Ordinal);
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

    /// <summary>The filters that together hear every topic that is ours, each once.</summary>
    public IReadOnlyList<string> Filters => _template.Filters;

    /// <summary>Why a message on a topic of no known shape is in the list.</summary>
    public string NotOurs { get; }

    public TopicRoute Of(string topic)
    {
        if (_routes.TryGetValue(topic, out TopicRoute? route))
        {
            return route;
        }

        TopicMatch match = _template.Match(topic);
        SeriesIntake? series = null;
        if (match.Kind == TopicKind.Reading && match.Quantity.Name is not null
            && !_series.TryGetValue(new SeriesKey(match.Probe!, match.Quantity), out series))
        {
            series = new SeriesIntake();
        }

        return new TopicRoute(match, series, this);
    }

    /// <summary>The last good value of a series, or null.</summary>
    public ReadingMemory? Recall(in SeriesKey series) => _series.TryGetValue(series, out SeriesIntake? known) ? known.Memory : null;

    /// <summary>
    /// Whether a reading of this series may be taken: not when its probe has as many others as a probe may have. Only series of which a
    /// reading came are remembered, so that rubbish takes no memory.
    /// </summary>
    public bool Admit(in SeriesKey series)
    {
        if (_series.ContainsKey(series))
        {
            return true;
        }

        if (_quantities.GetValueOrDefault(series.Probe) >= Limits.QuantitiesPerProbe)
        {
            return false;
        }

        Add(series);
        return true;
    }

    /// <summary>Remembers a good reading to judge the next one of its series by.</summary>
    public void Remember(TopicRoute route, in Reading good)
    {
        SeriesIntake? series = route.IsOwn(good.Series) ? route.Series : _series.GetValueOrDefault(good.Series);
        if (series is not null)
        {
            series.Memory = new ReadingMemory(good.Value, good.At);
        }
    }

    /// <summary>Remembers the route of a topic on which a good message came.</summary>
    public TopicRoute Keep(string topic, TopicRoute route)
    {
        SeriesIntake? series = null;
        if (route.Quantity is { } own && !_series.TryGetValue(new SeriesKey(route.Match.Probe!, own), out series))
        {
            // The message held other quantities only; the topic's own may never come.
            return route;
        }

        TopicRoute kept = series == route.Series ? route : new TopicRoute(route.Match, series, this) { Probe = route.Probe };
        if (Volatile.Read(ref _count) < Most && _routes.TryAdd(topic, kept))
        {
            Interlocked.Increment(ref _count);
        }

        return kept;
    }

    /// <summary>Remembers the last good value of a series from before the start.</summary>
    public void Load(in Reading good) => Add(good.Series).Memory = new ReadingMemory(good.Value, good.At);

    private SeriesIntake Add(in SeriesKey series)
    {
        SeriesIntake fresh = new();
        SeriesIntake there = _series.GetOrAdd(series, fresh);
        if (there == fresh)
        {
            _quantities.AddOrUpdate(series.Probe, 1, static (_, count) => count + 1);
        }

        return there;
    }
}
