using Incubation.Core.FirstScreen;

namespace Incubation.Service.FirstScreen;

/// <summary>What is left to set up, the most useful first. Empty when the house is in order.</summary>
internal static class ToDoList
{
    public static IEnumerable<ToDoView> For(IReadOnlyList<IncubatorFacts> incubators, int notPlaced, CallOutState callOut)
    {
        if (incubators.Count == 0)
        {
            yield return new ToDoView(ToDoView.Now, "Name your first incubator.", "/new-incubator");
        }

        if (notPlaced > 0)
        {
            yield return new ToDoView(
                ToDoView.Now, $"{Spoken.Count(notPlaced, "probe")} {(notPlaced == 1 ? "is" : "are")} heard but not placed: say where {(notPlaced == 1 ? "it is" : "they are")}.", "/probes");
        }

        foreach (IncubatorFacts incubator in incubators.Where(i => !i.HasProbe))
        {
            yield return new ToDoView(ToDoView.Now, $"Place a probe in {incubator.Name}.", "/probes");
        }

        if (callOut.NeedsOrder)
        {
            yield return new ToDoView(ToDoView.BeforeTonight, "Say who is called at night, and try it once.", "/calling");
        }

        if (callOut.Failing is { } who)
        {
            yield return new ToDoView(ToDoView.Now, $"{who} could not be reached: look at the call-out, mend it, and try it once.", "/calling");
        }

        if (callOut.NeedsMail)
        {
            yield return new ToDoView(ToDoView.BeforeTonight, "Set a mail server (Incubation:Mail:Host), or call by webhook instead.", "/calling");
        }
    }
}
