using Incubation.Service.FirstScreen;

namespace Incubation.Service.Clutches;

/// <summary>What the first screen shows of the clutches: a line each in its incubator, and what is to be done.</summary>
internal sealed class ClutchesOnFirstScreen(ClutchBook book, ClutchLines lines, ClutchTasks tasks) : IIncubatorContents, IToDoSource
{
    public async ValueTask<ILookup<string, ClutchLine>> ReadAsync(CancellationToken cancellationToken)
        => (await lines.ListAsync(ClutchLines.Incubating, cancellationToken)).Where(line => line.Incubator is not null)
            .ToLookup(line => line.Incubator!, StringComparer.Ordinal);

    public async ValueTask<IReadOnlyList<ToDoView>> ToDoAsync(CancellationToken cancellationToken)
    {
        var toDo = new List<ToDoView>();
        foreach (BookedClutch clutch in book.Current.Clutches.Values.Where(c => c.FinishedAt is null)
            .OrderBy(c => c.Clutch.Laid.Date).ThenBy(c => c.Clutch.Label, StringComparer.Ordinal))
        {
            ClutchLine line = await lines.OfAsync(clutch, cancellationToken);
            toDo.AddRange(new[] { tasks.Watch(clutch), tasks.Pip(clutch, line), tasks.Candle(clutch) }.OfType<ToDoView>());
        }

        return toDo;
    }
}
