using Incubation.Core.Clutches;
using Incubation.Core.Development;
using Incubation.Service.Clutches;
using NodaTime;

namespace Incubation.Service.Development;

/// <summary>A forecast as the clutch's page shows it.</summary>
internal static class ForecastSpeech
{
    public static PageForecast Page(HatchForecast forecast, ClutchPath path, Instant now, DateTimeZone zone, TemperatureScale scale)
    {
        IReadOnlyList<string> assumed = ForecastWords.Assumed(forecast, scale);
        string window = ForecastWords.Window(forecast, now, zone, scale);
        // The last of the sentences says what the profile rests on.
        var view = new ForecastView(
            forecast.Stage, forecast.DegreeDays, forecast.P10, forecast.P50, forecast.P90, string.Join(" ", assumed.SkipLast(1)),
            [.. forecast.Gaps.Select(Gap)], window,
            forecast.Profile.Evidence == Evidence.Published ? "published" : "common practice", forecast.Profile.Source);
        return new PageForecast(view, $"{window} {Speaking(path)}");
    }

    public static GapView Gap(Interval gap) => new(gap.Start, gap.End, Math.Round(gap.Duration.TotalHours, 2));

    /// <summary>Which probes speak for the clutch now, and what that is worth.</summary>
    public static string Speaking(ClutchPath path)
    {
        Whereabouts? now = path.Whereabouts.Count > 0 ? path.Whereabouts[^1] : null;
        return now switch
        {
            { Nearness: ProbeNearness.Tub } => $"{Names(now)} in its tub.",
            { Nearness: ProbeNearness.Incubator } =>
                $"{Names(now)} in the air of its incubator, not in its tub: the eggs may be up to 2 °C (3.6 °F) off.",
            { Incubator: null } => "It stands in no incubator on record, so no probe speaks for it.",
            _ => "No probe speaks for it: place one in its tub or its incubator.",
        };
    }

    private static string Names(Whereabouts now)
        => now.Probes.Count == 1 ? $"{now.Probes[0]} speaks for it," : $"{string.Join(" and ", now.Probes)} speak for it,";
}
