using Incubation.Service.Hosting;
using Microsoft.Extensions.Options;
using Microsoft.Extensions.Time.Testing;
using NodaTime;
using Xunit;

namespace Incubation.Service.Tests.Hosting;

public sealed class ServiceClockTests
{
    private static readonly Instant Now = Instant.FromUtc(2026, 11, 25, 3, 0);
    private readonly SteppingTime _time = new(Now);
    private readonly ServiceClock _clock;

    public ServiceClockTests() => _clock = new ServiceClock(_time);

    [Fact]
    public void A_clock_that_woke_up_in_the_past_is_dated_by_the_largest_time_seen_plus_what_has_passed()
    {
        _time.Step(Duration.FromDays(-20_000));
        var clock = new ServiceClock(_time);
        clock.Begin(Now, synced: null);
        Assert.False(clock.Trusted);

        _time.Advance(TimeSpan.FromMinutes(7));

        Assert.Equal(Now + Duration.FromMinutes(7), clock.Wall);
        Assert.False(clock.Check(synced: false));
        _time.Step(Duration.FromDays(20_000) + Duration.FromHours(5));
        Assert.True(clock.Check(synced: null));
        Assert.Equal(Now + Duration.FromMinutes(7) + Duration.FromHours(5), clock.Wall);
    }

    [Fact]
    public void A_board_that_never_knew_the_time_is_dated_no_earlier_than_any_board_that_speaks_to_us()
    {
        _time.Step(Duration.FromDays(-20_000));
        var clock = new ServiceClock(_time);
        clock.Begin(null, synced: null);

        Assert.False(clock.Trusted);
        Assert.Equal(Instant.FromUtc(2020, 1, 1, 0, 0), clock.Wall);
    }

    [Fact]
    public void A_jump_back_while_running_goes_on_evenly_until_the_clock_has_caught_up()
    {
        _clock.Begin(Now - Duration.FromHours(1), synced: null);
        _time.Step(Duration.FromHours(-2));
        Instant steady = _clock.Steady;
        _time.Advance(TimeSpan.FromMinutes(1));

        Assert.Equal(Now + Duration.FromMinutes(1), _clock.Wall);
        Assert.False(_clock.Trusted);
        Assert.Equal(Duration.FromMinutes(1), _clock.Steady - steady);
        Assert.False(_clock.Check(synced: false));
        _time.Step(Duration.FromHours(2));
        Assert.True(_clock.Check(synced: false));
        Assert.Equal(Now + Duration.FromMinutes(1), _clock.Wall);
    }

    [Fact]
    public void A_jump_ahead_is_believed_at_once_with_a_time_server_and_else_only_once_it_has_run_evenly()
    {
        _clock.Begin(Now, synced: null);
        _time.Step(Duration.FromHours(3));
        Assert.Equal(Now, _clock.Wall);
        Assert.False(_clock.Check(synced: false));
        _time.Advance(TimeSpan.FromMinutes(14));
        Assert.False(_clock.Check(synced: null));
        Assert.Equal(Now + Duration.FromMinutes(14), _clock.Wall);
        _time.Advance(TimeSpan.FromMinutes(1));
        Assert.True(_clock.Check(synced: null));
        Assert.Equal(Now + Duration.FromHours(3) + Duration.FromMinutes(15), _clock.Wall);

        _time.Step(Duration.FromHours(3));
        Assert.True(_clock.Check(synced: true));
    }

    [Fact]
    public void A_jump_of_years_is_believed_from_a_time_server_only()
    {
        _clock.Begin(Now, synced: null);
        _time.Step(Duration.FromDays(3_000));
        Assert.False(_clock.Check(synced: null));
        _time.Advance(TimeSpan.FromHours(2));
        Assert.False(_clock.Check(synced: null));
        Assert.Equal(Now + Duration.FromHours(2), _clock.Wall);
        Assert.True(_clock.Check(synced: true));

        // The other way round: the largest time seen was wrong, and a time server says so.
        _time.Step(Duration.FromDays(-3_000));
        Assert.True(_clock.Check(synced: true));
        Assert.Equal(Now + Duration.FromHours(2), _clock.Wall);
    }

    [Fact]
    public void Small_corrections_are_followed_however_many_there_are()
    {
        _clock.Begin(Now, synced: null);
        for (int i = 0; i < 100; i++)
        {
            _time.Advance(TimeSpan.FromSeconds(30));
            _time.Step(Duration.FromSeconds(20));
            Assert.True(_clock.Check(synced: null));
        }

        Assert.Equal(Now + Duration.FromSeconds(5_000), _clock.Wall);
    }

    [Fact]
    public void Words_say_why_and_what_to_do_and_afterwards_for_how_long()
    {
        var trust = new ClockTrust(_clock);
        _clock.Begin(Now, synced: null);
        Assert.True(trust.Now.Trusted);
        _time.Step(Duration.FromHours(-2));

        Assert.False(trust.Now.Trusted);
        Assert.Contains("jumped back to 2026-11-25 01:00 UTC, but it is 2026-11-25 03:00 UTC or later", trust.Now.Words, StringComparison.Ordinal);
        trust.Changed(trusted: false);
        _time.Step(Duration.FromHours(2));
        _clock.Check(synced: null);
        trust.Changed(trusted: true);
        Assert.True(trust.Now.Trusted);
        Assert.Contains("readings of that time are marked", trust.Now.Words, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("garbage", null, true)]
    [InlineData("", "", true)]
    [InlineData("1795575600000 1795575600001", "1795575600000 1795575600000\n", false)]
    [InlineData("1795575600000", null, false)]
    public void The_file_survives_damage_of_either_copy_and_of_both(string first, string? copy, bool byNeighbours)
    {
        DirectoryInfo directory = Directory.CreateTempSubdirectory("incubation-test-");
        var file = new ClockFile(new DataPaths(Options.Create(new IncubationOptions { DataDirectory = directory.FullName })));
        Assert.Null(file.Read());
        string neighbour = Path.Combine(directory.FullName, "readings.db");
        File.WriteAllText(neighbour, "x");
        File.SetLastWriteTimeUtc(neighbour, Now.ToDateTimeUtc());
        File.WriteAllText(Path.Combine(directory.FullName, "clock"), first);
        if (copy is not null)
        {
            File.WriteAllText(Path.Combine(directory.FullName, "clock.copy"), copy);
        }

        Assert.Equal(byNeighbours ? Now : Instant.FromUnixTimeMilliseconds(1795575600000), file.Read());
        file.Write(Now + Duration.FromHours(1));
        Assert.Equal(Now + Duration.FromHours(1), file.Read());
        directory.Delete(recursive: true);
    }

    /// <summary>A clock whose wall time steps without the monotonic one.</summary>
    private sealed class SteppingTime(Instant now) : FakeTimeProvider(now.ToDateTimeOffset())
    {
        private TimeSpan _off;

        public void Step(Duration by) => _off += by.ToTimeSpan();

        public override DateTimeOffset GetUtcNow() => base.GetUtcNow() + _off;

        public override long GetTimestamp() => base.GetUtcNow().Ticks;
    }
}
