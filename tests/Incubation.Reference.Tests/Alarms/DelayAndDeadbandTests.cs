using System.Globalization;
using Incubation.Core.Alarms;
using Incubation.Reference.Tests.Sources;
using NodaTime;
using Xunit;

namespace Incubation.Reference.Tests.Alarms;

public sealed class DelayAndDeadbandTests
{
    [Theory]
    [InlineData("spike ignored", 0.3, 120, 60, "0:31 60:31 120:33.4 180:31 240:31 300:31", "")]
    [InlineData("hover inside the deadband", 0.3, 60, 60,
        "0:32 60:33.1 120:33.2 180:33.1 240:32.9 300:33.1 360:32.8 420:33.2 480:32.9 540:32.75 600:32.6 660:32.5 720:32.4",
        "raise 120..120, clear 660..660")]
    [InlineData("no chatter with a deadband", 0.5, 0, 0, "0:32.9 60:33.1 120:32.9 180:33.1 240:32.9 300:33.1 360:32.9 420:32.4",
        "raise 60..60, clear 420..420")]
    [InlineData("an interrupted delay starts afresh", 0.3, 150, 60,
        "0:31 60:33.2 120:33.2 180:32.5 240:33.2 300:33.2 360:33.2 420:33.2 480:32 540:32 600:32", "raise 390..420, clear 540..540")]
    [InlineData("irregular readings", 0.3, 120, 60, "0:31 30:33.2 75:33.3 400:33.4 410:32 430:32 500:32", "raise 150..400, clear 470..500")]
    [Source("IEC", 2014, "IEC 62682, Management of alarm systems for the process industries (and ANSI/ISA-18.2-2016)",
        "basic alarm design: deadband, on-delay, off-delay",
        Remark = "times worked out by the rule, not printed there: beyond is strictly past the limit, back is more than the deadband inside")]
    public void Alarms_raise_and_clear_within_the_times_that_delay_and_deadband_allow(
        string night, double deadband, int on, int off, string samples, string expected)
    {
        var rule = new LimitRule(LimitSide.High, 33.0, deadband, Duration.FromSeconds(on), Duration.FromSeconds(off));
        string[] windows = expected.Split(", ", StringSplitOptions.RemoveEmptyEntries);
        List<(WatchEvent What, double At)> events = Run(rule, samples);
        Assert.True(windows.Length == events.Count, $"{night}: {events.Count} events");
        for (int i = 0; i < windows.Length; i++)
        {
            string[] parts = windows[i].Split([" ", ".."], StringSplitOptions.None);
            Assert.Equal(parts[0] == "raise" ? WatchEvent.Raise : WatchEvent.Clear, events[i].What);
            Assert.InRange(events[i].At, Number(parts[1]), Number(parts[2]));
        }
    }

    private static List<(WatchEvent What, double At)> Run(in LimitRule rule, string samples)
    {
        List<(WatchEvent, double)> events = [];
        LimitWatch watch = default;
        foreach (string sample in samples.Split(' '))
        {
            string[] parts = sample.Split(':');
            Instant at = Instant.FromUnixTimeSeconds((long)Number(parts[0]));
            Instant due = watch.Due;
            if (due <= at)
            {
                Note(watch.Elapse(due), due, events);
            }

            Note(watch.Observe(rule, Number(parts[1]), at), at, events);
        }

        return events;
    }

    private static void Note(WatchEvent what, Instant at, List<(WatchEvent, double)> events)
    {
        if (what != WatchEvent.None)
        {
            events.Add((what, at.ToUnixTimeSeconds()));
        }
    }

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
