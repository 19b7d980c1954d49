using Incubation.Service.Demo;
using Incubation.Simulation.Cabinets;
using Incubation.Simulation.Probes;
using Incubation.Simulation.Scenarios;
using NodaTime;
using Xunit;

namespace Incubation.Service.Tests.Demo;

public sealed class DemoWordsTests
{
    [Fact]
    public void Whatever_the_director_does_is_said_in_a_sentence_with_names_that_people_use()
    {
        var start = Instant.FromUtc(2026, 11, 25, 3, 0);
        var director = new DemoDirector(start, new DemoSettings());
        var said = new HashSet<string>();
        for (var second = 0; second < 6 * 3600; second += 5)
        {
            said.UnionWith(director.Due(start + Duration.FromSeconds(second), answered: second > 120).Select(DemoWords.Say));
        }
        Assert.Contains("The heater of Juniper has stuck on.", said);
        Assert.Contains("Somebody has mended the heater of Juniper.", said);
        Assert.Contains("A probe that nobody has placed yet, bench-7, begins to send.", said);
        Assert.All(said, sentence => Assert.Matches("^[A-Z][^{}=]*\\.$", sentence));
        Assert.DoesNotContain(said, sentence => sentence.Contains("Something", StringComparison.Ordinal));
    }

    [Fact]
    public void Times_are_said_in_the_unit_that_people_would_use()
    {
        Assert.Equal("Probe hazel-eggs sends a value that means a fault for 6 seconds.", DemoWords.Say(new ProbeBecame("hazel-eggs", ProbeFault.Minus127, 6)));
        Assert.Equal("Probe linden-eggs falls silent for 3 minutes.", DemoWords.Say(new ProbeBecame("linden-eggs", ProbeFault.Silent, 180)));
        Assert.Equal("The heater of Rowan gives no heat.", DemoWords.Say(new HeaterBecame(DemoFacility.Rowan, HeaterFault.Dead)));
    }
}
