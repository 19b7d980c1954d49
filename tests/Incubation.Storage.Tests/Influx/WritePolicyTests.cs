using CsCheck;
using Incubation.Storage.Influx;
using Xunit;

namespace Incubation.Storage.Tests.Influx;

/// <summary>Statuses as https://docs.influxdata.com/influxdb/v2/write-data/troubleshoot/ lists them.</summary>
public sealed class WritePolicyTests
{
    [Theory]
    [InlineData(204, 5_000, "Done", "Well")]
    [InlineData(400, 5_000, "Split", "Well")]
    [InlineData(422, 2, "Split", "Well")]
    [InlineData(400, 1, "SetAside", "Well")]
    [InlineData(422, 1, "SetAside", "Well")]
    [InlineData(413, 5_000, "SplitForGood", "Well")]
    [InlineData(413, 1, "SetAside", "Well")]
    [InlineData(401, 5_000, "Again", "Stopped")]
    [InlineData(403, 1, "Again", "Stopped")]
    [InlineData(404, 5_000, "Again", "Stopped")]
    [InlineData(405, 5_000, "Again", "Stopped")]
    [InlineData(200, 5_000, "Again", "Stopped")]
    [InlineData(301, 5_000, "Again", "Stopped")]
    [InlineData(408, 5_000, "Again", "Away")]
    [InlineData(429, 5_000, "Again", "Away")]
    [InlineData(500, 5_000, "Again", "Away")]
    [InlineData(502, 5_000, "Again", "Away")]
    [InlineData(503, 1, "Again", "Away")]
    [InlineData(null, 5_000, "Again", "Away")]
    public void Judge_knows_what_each_answer_asks_for(int? status, int points, string move, string condition)
    {
        WriteVerdict verdict = WritePolicy.Judge(new WriteAnswer(status, null, "said so"), points, 0, 0.5);

        Assert.Equal((move, condition), (verdict.Move.ToString(), verdict.Condition.ToString()));
        Assert.Equal(verdict.Move == NextMove.Again, verdict.Pause > TimeSpan.Zero);
        Assert.NotEmpty(verdict.Words);
    }

    [Fact]
    public void Judge_a_refused_token_says_which_setting_to_mend()
        => Assert.Contains("Incubation:Influx:Token", WritePolicy.Judge(new WriteAnswer(401, null, "unauthorized access"), 1, 0, 0).Words, StringComparison.Ordinal);

    [Theory]
    [InlineData(429)]
    [InlineData(503)]
    public void Judge_waits_as_long_as_it_is_asked_to(int status)
    {
        Assert.Equal(TimeSpan.FromSeconds(7), WritePolicy.Judge(new WriteAnswer(status, TimeSpan.FromSeconds(7), ""), 1, 8, 0.9).Pause);
        Assert.Equal(TimeSpan.FromHours(1), WritePolicy.Judge(new WriteAnswer(status, TimeSpan.FromDays(7), ""), 1, 8, 0.9).Pause);
    }

    [Fact]
    public void Judge_pauses_grow_to_five_minutes_and_never_beyond()
        => Gen.Select(Gen.Int[0, 5].Select(i => new int?[] { null, 500, 502, 429, 503, 408 }[i]), Gen.Int[0, 100_000], Gen.Double[0, 1]).Sample(
            c =>
            {
                TimeSpan pause = WritePolicy.Judge(new WriteAnswer(c.Item1, null, ""), 10, c.Item2, c.Item3).Pause;
                double full = Math.Min(300, Math.Pow(2, Math.Min(c.Item2, 20)));
                Assert.InRange(pause.TotalSeconds, full / 2 - 1e-6, full + 1e-6);
            });
}
