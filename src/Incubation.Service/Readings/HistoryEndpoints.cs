using System.Globalization;
using System.Text.Json;
using Incubation.Core;
using Incubation.Core.Alarms;
using Incubation.Core.Readings;
using Incubation.Service.Facility;
using Incubation.Service.Hosting;
using Incubation.Service.Http;
using Incubation.Service.Probes;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.Extensions.Options;
using NodaTime;
using JsonOptions = Microsoft.AspNetCore.Http.Json.JsonOptions;

namespace Incubation.Service.Readings;

/// <summary>HTTP face of the history of an incubator.</summary>
internal static class HistoryEndpoints
{
    private const int UsualBuckets = 600;
    private const string TimeAllowed = "a time such as 2026-11-25T03:04:05Z.";

    // A season and the one before it.
    private static readonly Duration Longest = Duration.FromDays(800);

    public static void Map(RouteGroupBuilder api)
        => api.MapGet("/incubators/{key}/history", History).WithName("getHistory").WithTags("Readings")
            .WithSummary("What the probes in an incubator measured: min, mean, max and count of buckets of equal width, and gaps. The last 24 hours unless told.")
            .Produces<HistoryView>(contentType: "application/json").Produces(StatusCodes.Status304NotModified)
            .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status404NotFound);

    private static async Task<Results<FileContentHttpResult, ProblemHttpResult>> History(
        string key, string? quantity, string? from, string? to, string? buckets, HttpContext http, HistoryLookup lookup, HistoryTags tags,
        IFacility facility, ServiceClock clock, IOptions<JsonOptions> json, CancellationToken cancellationToken)
    {
        Instant now = clock.Wall;
        Quantity what = new(quantity ?? Quantity.Temperature.Name);
        if (Check(from, to, buckets, now, out HistoryRange? range) is { } wrong)
        {
            return wrong;
        }

        HistoryFound? found = await lookup.FindAsync(key, what, range!, cancellationToken);
        if (found is null)
        {
            return Problems.NotFound($"There is no incubator '{key}'.");
        }

        HistoryView view = new(
            what.Name, what.Unit, Instant.FromUnixTimeMilliseconds(range!.Range.FromMs),
            Instant.FromUnixTimeMilliseconds(range.Range.ToMs), range.BucketMs, found.Series,
            facility.Current.Bands.TryGetValue((key, what), out Band? band) ? BandView.Of(band) : null, found.Incomplete);
        byte[] body = JsonSerializer.SerializeToUtf8Bytes(view, json.Value.SerializerOptions);
        if (range.Range.ToMs > now.ToUnixTimeMilliseconds() || found.Incomplete is not null)
        {
            http.Response.Headers.CacheControl = "no-store";
            return TypedResults.File(body, "application/json");
        }

        // A finished range rarely changes, but a probe may still deliver what it kept, and a calibration entered today corrects it: so it is
        // asked for each time, and mostly not sent again.
        http.Response.Headers.CacheControl = "private, max-age=0, must-revalidate";
        return TypedResults.File(body, "application/json", entityTag: tags.Of(http, body));
    }

    private static ProblemHttpResult? Check(string? from, string? to, string? buckets, Instant now, out HistoryRange? range)
    {
        Dictionary<string, string[]> errors = [];
        Instant end = now, begin = default;
        if (to is not null && !ProbeChanges.TryReadTime(to, out end))
        {
            errors["to"] = [TimeAllowed];
        }

        if (from is null)
        {
            begin = end - Duration.FromHours(24);
        }
        else if (!ProbeChanges.TryReadTime(from, out begin))
        {
            errors["from"] = [TimeAllowed];
        }

        int count = UsualBuckets;
        if (buckets is not null && !(int.TryParse(buckets, NumberStyles.None, CultureInfo.InvariantCulture, out count)
            && count is >= 1 and <= Limits.HistoryBuckets))
        {
            errors["buckets"] = [string.Create(CultureInfo.InvariantCulture, $"a whole number from 1 to {Limits.HistoryBuckets}.")];
        }

        if (errors.Count == 0 && (begin >= end || end - begin > Longest))
        {
            errors["from"] = [string.Create(CultureInfo.InvariantCulture, $"a time before \"to\", by at most {Longest.Days} days.")];
        }

        range = errors.Count > 0
            ? null
            : new HistoryRange(new SeriesRange(begin.ToUnixTimeMilliseconds(), Math.Max(end.ToUnixTimeMilliseconds(), begin.ToUnixTimeMilliseconds() + 1)), count);
        return errors.Count > 0 ? Problems.Invalid(errors) : null;
    }
}
