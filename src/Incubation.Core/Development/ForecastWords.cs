using System.Globalization;
using NodaTime;

namespace Incubation.Core.Development;

/// <summary>A forecast in sentences.</summary>
public static class ForecastWords
{
    /// <summary>When pip is to be expected, in one sentence.</summary>
    /// <param name="forecast">The forecast.</param>
    /// <param name="now">Now.</param>
    /// <param name="zone">The facility's zone.</param>
    /// <param name="scale">Scale for temperatures.</param>
    public static string Window(HatchForecast forecast, Instant now, DateTimeZone zone, TemperatureScale scale)
    {
        ArgumentNullException.ThrowIfNull(forecast);
        ArgumentNullException.ThrowIfNull(zone);
        if (forecast.P50 is not { } likely)
        {
            return $"No pip is to be expected: at {TemperatureWords.Value(forecast.Ahead.Celsius, scale)} these eggs hardly develop.";
        }

        string from = Day(forecast.P10 ?? likely, zone);
        string to = forecast.P90 is { } late ? Day(late, zone) : "later than can be said";
        return forecast.P90 < now
            ? $"Pip was to be expected between {from} and {to}; the window has passed. Look at the eggs, and at what the forecast assumed."
            : from == to
                ? $"Pip is to be expected on {from}."
                : $"Pip is to be expected between {from} and {to}, most likely about {Day(likely, zone)} (8 eggs in 10).";
    }

    /// <summary>What was assumed, sentence by sentence; nothing that was assumed is left out.</summary>
    public static IReadOnlyList<string> Assumed(HatchForecast forecast, TemperatureScale scale)
    {
        ArgumentNullException.ThrowIfNull(forecast);
        var words = new List<string>();
        if (forecast.Early is { } early)
        {
            words.Add($"Before the first reading it is taken to have had {Say(early, scale)}.");
        }

        if (forecast.Later is { } later)
        {
            words.Add($"While no reading came it is taken to have had {Say(later, scale)}.");
        }

        if (forecast.Unknown > Duration.Zero)
        {
            words.Add($"In all {Length(forecast.Unknown)} are without readings; the window is wider for it.");
        }

        words.Add($"For the days to come: {Say(forecast.Ahead, scale)}.");
        words.Add(forecast.Profile.Evidence == Evidence.Published
            ? $"How fast this species develops is published: {forecast.Profile.Source}"
            : $"How fast this species develops is common practice, not published. {forecast.Profile.Source}");
        return words;
    }

    /// <summary>A length of time: "40 minutes", "9 hours", "3 days".</summary>
    public static string Length(Duration length) => length.TotalHours switch
    {
        < 1.5 => Count(Math.Max(1, Math.Round(length.TotalMinutes)), "minute"),
        < 48 => Count(Math.Round(length.TotalHours), "hour"),
        _ => Count(Math.Round(length.TotalDays), "day"),
    };

    private static string Say(Assumption assumption, TemperatureScale scale) =>
        $"{TemperatureWords.Value(assumption.Celsius, scale)} ({Basis(assumption.Basis)})";

    private static string Basis(AssumptionBasis basis) => basis switch
    {
        AssumptionBasis.Keeper => "as the keeper believes",
        AssumptionBasis.RecentMean => "the mean of the last three days",
        AssumptionBasis.WholeRecord => "the mean of what was recorded of it",
        AssumptionBasis.BandMiddle => "the middle of the incubator's band",
        _ => "the usual temperature for the species",
    };

    private static string Count(double number, string unit) =>
        string.Create(CultureInfo.InvariantCulture, $"{number:0} {unit}{(number == 1 ? "" : "s")}");

    private static string Day(Instant at, DateTimeZone zone) => at.InZone(zone).Date.ToString("d MMM uuuu", CultureInfo.InvariantCulture);
}
