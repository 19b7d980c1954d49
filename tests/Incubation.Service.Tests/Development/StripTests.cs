using System.Net;
using System.Text.Json;
using Incubation.Core.Development;
using Incubation.Service.Development;
using Incubation.Storage.Records;
using NodaTime;
using Xunit;

namespace Incubation.Service.Tests.Development;

public sealed class StripTests
{
    private static readonly LocalDate LayDate = new(2026, 3, 1);
    private static readonly Instant Noon = Instant.FromUtc(2026, 3, 1, 12, 0);

    [Fact]
    public async Task A_strip_tells_climate_candlings_stage_and_pip_on_one_line()
    {
        Instant now = Noon + Duration.FromDays(20);
        await using EggRoom room = await EggRoom.StartAsync(now);
        await room.IncubatorAsync("hazel");
        await room.TubAsync("tub-1", ("hazel", Noon));
        await room.ClutchAsync("c-01", LayDate, "tub-1", eggs: 4);
        await room.ProbeAsync("hazel-eggs", "hazel", "tub 1", Noon - Duration.FromDays(1));
        await room.ReadAsync("hazel-eggs", EggRoom.Every(5, Noon, now, 31.5));
        await room.EggsAsync("c-01", (number, egg) => [new CandlingRecord
        {
            Id = Guid.NewGuid(),
            Egg = egg,
            Tint = number == 1 ? "greenish" : "pink",
            TintWord = number == 1 ? "greenish" : "pink",
            Veins = "spreading",
            At = Noon + Duration.FromDays(9) + Duration.FromMinutes(number),
            By = "Ada",
        }]);

        JsonElement strip = await room.GetAsync("/api/clutches/c-01/strip?buckets=100");

        int columns = strip.GetProperty("startMs").GetArrayLength();
        Assert.InRange(columns, 20, 40);
        Assert.All(new[] { "min", "mean", "max" }, name => Assert.Equal(columns, strip.GetProperty(name).GetArrayLength()));
        Assert.All(strip.GetProperty("mean").EnumerateArray(), mean => Assert.Equal(31.5, mean.GetDouble(), 1e-9));
        Assert.Empty(strip.GetProperty("gaps").EnumerateArray());
        Assert.Empty(strip.GetProperty("excursions").EnumerateArray());
        Assert.Equal(32.5, strip.GetProperty("band").GetProperty("warningHigh").GetDouble());
        Assert.Equal("2026-03-01T00:00:00Z", strip.GetProperty("from").GetString());
        JsonElement round = Assert.Single(strip.GetProperty("candlings").EnumerateArray());
        Assert.Equal(["3 pink #e58a94", "1 greenish #a3b86c"], round.GetProperty("tints").EnumerateArray().Select(tint =>
            $"{tint.GetProperty("n")} {tint.GetProperty("word").GetString()} {tint.GetProperty("colour").GetString()}"));
        double[][] stage = Pairs(strip.GetProperty("stage"));
        Assert.Equal(0, stage[0][1]);
        Assert.Equal(1, stage[^1][1], 1e-3);
        Assert.Equal(stage.Select(point => point[1]).Order(), stage.Select(point => point[1]));
        double[][] density = Pairs(strip.GetProperty("pip").GetProperty("density"));
        double area = density.Zip(density.Skip(1), (a, b) => (a[1] + b[1]) / 2 * (b[0] - a[0]) / 86_400_000).Sum();
        Assert.Equal(0.99, area, 0.01);
        JsonElement probe = Assert.Single(strip.GetProperty("probes").EnumerateArray());
        Assert.Equal("in its tub", probe.GetProperty("near").GetString());
    }

    [Fact]
    public async Task A_finished_clutch_ends_with_its_last_outcome_and_has_no_pip_to_come()
    {
        Instant hatched = Noon + Duration.FromDays(58), now = Noon + Duration.FromDays(100);
        await using EggRoom room = await EggRoom.StartAsync(now);
        await room.ClutchAsync("c-01", LayDate, null, eggs: 2, finishedAt: now - Duration.FromDays(1));
        await room.EggsAsync("c-01", (_, egg) => [new OutcomeRecord { Id = Guid.NewGuid(), Egg = egg, Kind = "out", At = hatched, By = "Ada" }]);

        JsonElement strip = await room.GetAsync("/api/clutches/c-01/strip");

        Assert.Equal(JsonValueKind.Null, strip.GetProperty("pip").ValueKind);
        Assert.Equal("2026-04-29T12:00:00Z", strip.GetProperty("to").GetString());
    }

    [Theory]
    [InlineData("/api/clutches/c-01/strip?buckets=0", HttpStatusCode.BadRequest)]
    [InlineData("/api/clutches/c-01/strip?buckets=2001", HttpStatusCode.BadRequest)]
    [InlineData("/api/clutches/c-01/strip?buckets=many", HttpStatusCode.BadRequest)]
    [InlineData("/api/clutches/c-01/strip?temperature=K", HttpStatusCode.BadRequest)]
    [InlineData("/api/clutches/nobody/strip", HttpStatusCode.NotFound)]
    public async Task A_strip_that_is_none_is_a_problem_document(string path, HttpStatusCode status)
    {
        await using EggRoom room = await EggRoom.StartAsync(Noon);
        await room.ClutchAsync("c-01", LayDate, null);

        using HttpResponseMessage answer = await room.Http.GetAsync(path, TestContext.Current.CancellationToken);

        Assert.Equal(status, answer.StatusCode);
        Assert.Equal("application/problem+json", answer.Content.Headers.ContentType?.MediaType);
    }

    [Fact]
    public void Buckets_weigh_by_time_and_leave_gaps_out()
    {
        Instant At(double hour) => Noon + Duration.FromHours(hour);
        Trace line = Trace.Of([new Piece(At(0), 30, At(1), 32), new Piece(At(1), 32, At(1.5), 32), new Piece(At(4), 20, At(5), 20)]);

        StripBuckets drawn = StripBuckets.Of(line, At(0), At(6), 3);

        Assert.Equal(7_200_000, drawn.WidthMs);
        Assert.Equal([At(0).ToUnixTimeMilliseconds(), At(4).ToUnixTimeMilliseconds()], drawn.StartMs);
        // One hour at 31 and half an hour at 32 on average.
        Assert.Equal(((1 * 31) + (0.5 * 32)) / 1.5, drawn.Mean[0], 1e-9);
        Assert.Equal((30.0, 32.0, 20.0), (drawn.Min[0], drawn.Max[0], drawn.Mean[1]));
    }

    [Fact]
    public void Calm_hours_keep_every_area_and_every_gap()
    {
        Instant start = Instant.FromUtc(2026, 3, 1, 0, 20);
        TracePoint[] points = [.. Enumerable.Range(0, 600).Where(i => i is < 200 or > 260).Select(i =>
            new TracePoint(start + Duration.FromMinutes(5 * i), 31 + (0.15 * Math.Sin(i)) + (i is > 400 and < 420 ? 3 : 0)))];
        Trace fine = Trace.FromReadings(points, Duration.FromMinutes(30));

        Trace calm = Trace.Of(CalmHours.Of(fine.Pieces));

        Assert.Equal(DegreeDays.Sum(fine, 17), DegreeDays.Sum(calm, 17), 1e-9);
        Assert.Equal(fine.Gaps(start, points[^1].At), calm.Gaps(start, points[^1].At));
        Assert.Equal(fine.Pieces.Max(piece => piece.FromValue), calm.Pieces.Max(piece => piece.FromValue), 0.31);
        Assert.True(calm.Pieces.Count < fine.Pieces.Count / 5);
    }

    private static double[][] Pairs(JsonElement list)
        => [.. list.EnumerateArray().Select(pair => pair.EnumerateArray().Select(value => value.GetDouble()).ToArray())];
}
