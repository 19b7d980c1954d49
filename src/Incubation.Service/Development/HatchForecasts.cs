using System.Collections.Concurrent;
using Incubation.Core.Development;
using Incubation.Core.Readings;
using Incubation.Core.Review;
using Incubation.Service.Clutches;
using Incubation.Service.Hosting;
using Microsoft.Extensions.Options;
using NodaTime;

namespace Incubation.Service.Development;

/// <summary>
/// Forecasts from what each clutch really had. One is kept until its clutch, a placement or a band changes, a late reading comes, or it is
/// a few minutes old, so that a list of clutches costs nothing.
/// </summary>
internal sealed class HatchForecasts(
    Climate climate, ClutchBook book, PlacementHistory history, SeriesDays days, ServiceClock clock, IOptions<IncubationOptions> options)
    : IClutchForecast
{
    /// <summary>Age up to which the list shows a forecast; a stage moves by 1 in 20,000 in that time.</summary>
    public static readonly Duration LineAge = Duration.FromMinutes(5);

    private static readonly Duration PageAge = Duration.FromMinutes(1);

    private readonly ConcurrentDictionary<Guid, Kept> _kept = new();

    public DateTimeZone Zone { get; } = DateTimeZoneProviders.Tzdb.GetZoneOrNull(options.Value.Facility.Zone) ?? DateTimeZone.Utc;

    public async ValueTask<LineForecast?> LineAsync(BookedClutch clutch, CancellationToken cancellationToken)
    {
        if (await OfAsync(clutch, LineAge, cancellationToken) is not { } kept)
        {
            return null;
        }

        HatchForecast forecast = kept.Forecast;
        PipWindow? pip = forecast is { P10: { } from, P50: { } likely, P90: { } to } ? new PipWindow(from, likely, to) : null;
        return new LineForecast(forecast.Stage, pip);
    }

    public async ValueTask<PageForecast> PageAsync(BookedClutch clutch, TemperatureScale scale, CancellationToken cancellationToken)
        => await OfAsync(clutch, PageAge, cancellationToken) is { } kept
            ? ForecastSpeech.Page(kept.Forecast, kept.Path, clock.Wall, Zone, scale)
            : new PageForecast(null, "No one has entered how fast this species develops, so no pip can be forecast.");

    /// <summary>The forecast with the path it rests on; null when the species has no profile.</summary>
    public async ValueTask<Kept?> OfAsync(BookedClutch clutch, Duration age, CancellationToken cancellationToken)
    {
        Instant now = clock.Wall;
        PlacementPage page = await history.ReadAsync(cancellationToken);
        int late = days.LateReadings;
        if (_kept.TryGetValue(clutch.Id, out Kept? kept) && kept.Rests(clutch, book.Current, page)
            // A probe that delivers what it kept sends late readings for minutes: the list does not start over at each.
            && (kept.Late == late || (age >= LineAge && now - kept.At < PageAge))
            && (kept.Life.Over || (now >= kept.At && now - kept.At <= age)))
        {
            return kept;
        }

        if (DevelopmentProfiles.Find(clutch.Clutch.Species) is not { } profile)
        {
            return null;
        }

        ClutchBookPage tubs = book.Current;
        ClutchLife life = ClutchLife.Of(clutch, Zone, now);
        ClutchPath path = ClutchPath.Of(clutch, tubs, page, Quantity.Temperature, life.Laid, Instant.Max(life.End, life.Laid + Duration.FromSeconds(1)));
        Trace line = climate.Line(clutch, path, Quantity.Temperature, life.Laid, life.End, now, calm: true);
        HatchForecast forecast = HatchForecast.Of(new ForecastInput(profile, life.Laid, clutch.Clutch.Laid.SlackDays, line, life.End)
        {
            KeeperCelsius = clutch.Clutch.AssumedCelsius,
            BandMiddleCelsius = Middle(path),
        });
        return _kept[clutch.Id] = new Kept(clutch, tubs, page, late, now, life, path, forecast);
    }

    // Of the incubator it is in; where it is in none, nothing is known of the days to come.
    private static double? Middle(ClutchPath path)
        => path.Whereabouts.Count > 0 && path.Whereabouts[^1].Incubator is not null && path.Bands.Count > 0
            && path.Bands[^1] is BandSpan { Low: { } low, High: { } high }
            ? (low + high) / 2
            : null;

    /// <summary>A forecast and what it was made from; all of that is replaced, never changed, so being the same object is being the same.</summary>
    internal sealed record Kept(
        BookedClutch Clutch, ClutchBookPage Book, PlacementPage Page, int Late, Instant At, ClutchLife Life, ClutchPath Path, HatchForecast Forecast)
    {
        public bool Rests(BookedClutch clutch, ClutchBookPage book, PlacementPage page)
            => ReferenceEquals(Clutch, clutch) && ReferenceEquals(Book.Tubs, book.Tubs) && ReferenceEquals(Page, page);
    }
}
