using Incubation.Core.Alarms;
using Incubation.Reference.Tests.Sources;
using Xunit;

namespace Incubation.Reference.Tests.Alarms;

/// <summary>States by the letters of the standard's diagram: A normal, B unacknowledged, C acknowledged, D returned unacknowledged.</summary>
public sealed class StateTransitionTests
{
    private const string Unseen = "the standard itself was not at hand; the core four states agree in two public texts that follow it";

    [Theory]
    [InlineData('A', AlarmTrigger.Abnormal, 'B')]
    [InlineData('B', AlarmTrigger.Acknowledge, 'C')]
    [InlineData('B', AlarmTrigger.Normal, 'D')]
    [InlineData('C', AlarmTrigger.Normal, 'A')]
    [InlineData('C', AlarmTrigger.ReAlarm, 'B')]
    [InlineData('D', AlarmTrigger.Acknowledge, 'A')]
    [InlineData('D', AlarmTrigger.Abnormal, 'B')]
    [InlineData('A', AlarmTrigger.Acknowledge, 'A')]
    [InlineData('C', AlarmTrigger.Acknowledge, 'C')]
    [Source("IEC", 2014, "IEC 62682, Management of alarm systems for the process industries (and ANSI/ISA-18.2-2016)",
        "alarm state transition diagram and table, core rows", Remark = Unseen)]
    public void Core_transitions_are_those_of_the_standard(char from, AlarmTrigger trigger, char to)
        => Assert.Equal(State(to), AlarmMachine.Next(State(from), trigger));

    [Theory]
    [InlineData("abnormal ack normal", "BCA")]
    [InlineData("abnormal normal abnormal ack normal", "BDBCA")]
    [Source("IEC", 2014, "IEC 62682, Management of alarm systems for the process industries (and ANSI/ISA-18.2-2016)",
        "alarm state transition diagram", Remark = "traces derived from its table; " + Unseen)]
    public void Traces_through_the_core_states_pass_the_states_of_the_standard(string events, string states)
    {
        AlarmState state = AlarmState.Normal;
        string passed = "";
        foreach (string what in events.Split(' '))
        {
            state = AlarmMachine.Next(state, what switch
            {
                "abnormal" => AlarmTrigger.Abnormal,
                "ack" => AlarmTrigger.Acknowledge,
                _ => AlarmTrigger.Normal,
            });
            passed += "ABCD"[(int)state];
        }

        Assert.Equal(states, passed);
    }

    [Theory]
    [InlineData("E, latched unacknowledged", "no limit of a band latches: an alarm that comes back waits in D for an answer, which is what latching is for here")]
    [InlineData("F, latched acknowledged", "as E")]
    [InlineData("G, shelved", "comes with planned work on an incubator")]
    [InlineData("H, suppressed by design", "only calls about single silent probes are held back while nothing at all is heard; their alarms stand")]
    [InlineData("I, out of service", "an incubator is taken out of use instead, which ends its alarms")]
    [NoSource(NoSourceAttribute.FromMemory, Remark = "letters of the rows beyond the core four of ANSI/ISA-18.2 and IEC 62682; the product does not have these states, and this row says so until it does")]
    public void States_beyond_the_core_four_are_not_kept(string state, string why)
    {
        Assert.NotEmpty(why);
        string name = state.Split(", ")[1].Replace(" ", "", StringComparison.Ordinal);
        Assert.DoesNotContain(Enum.GetNames<AlarmState>(), n => name.StartsWith(n, StringComparison.OrdinalIgnoreCase));
        Assert.Equal(4, Enum.GetNames<AlarmState>().Length);
    }

    private static AlarmState State(char letter) => (AlarmState)(letter - 'A');
}
