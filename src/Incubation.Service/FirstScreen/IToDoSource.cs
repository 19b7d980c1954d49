using Incubation.Core.FirstScreen;
using Incubation.Service.Clutches;
using Incubation.Service.Hosting;

namespace Incubation.Service.FirstScreen;

/// <summary>A room that has something for the keeper to do. The first screen asks every one and knows none.</summary>
internal interface IToDoSource
{
    ValueTask<IReadOnlyList<ToDoView>> ToDoAsync(CancellationToken cancellationToken);
}

/// <summary>A room that knows what lies in the incubators.</summary>
internal interface IIncubatorContents
{
    /// <summary>Lines of the clutches by the key of their incubator.</summary>
    ValueTask<ILookup<string, ClutchLine>> ReadAsync(CancellationToken cancellationToken);
}

/// <summary>
/// Gathers from the other rooms. One that fails is left out and logged: what it has to say is never worth the screen that shows
/// the alarms.
/// </summary>
internal sealed class OtherRooms(
    IEnumerable<IToDoSource> toDo, IEnumerable<IIncubatorContents> contents, IEnumerable<IServiceTroubles> troubles, ILogger<OtherRooms> log)
{
    public async ValueTask<IReadOnlyList<ToDoView>> ToDoAsync(CancellationToken cancellationToken)
    {
        var all = new List<ToDoView>();
        foreach (IToDoSource source in toDo)
        {
            try
            {
                all.AddRange(await source.ToDoAsync(cancellationToken));
            }
            catch (Exception error) when (error is not OperationCanceledException)
            {
                log.LogError(error, "{Source} could not say what is to be done", source.GetType().Name);
            }
        }

        return all;
    }

    public IReadOnlyList<ServiceTrouble> Troubles()
    {
        var all = new List<ServiceTrouble>();
        foreach (IServiceTroubles source in troubles)
        {
            try
            {
                all.AddRange(source.Troubles());
            }
#pragma warning disable CA1031 // As above: never worth the screen.
            catch (Exception error)
#pragma warning restore CA1031
            {
                log.LogError(error, "{Source} could not say whether it works", source.GetType().Name);
            }
        }

        return all;
    }

    public async ValueTask<ILookup<string, ClutchLine>> ContentsAsync(CancellationToken cancellationToken)
    {
        var all = new List<KeyValuePair<string, ClutchLine>>();
        foreach (IIncubatorContents source in contents)
        {
            try
            {
                all.AddRange((await source.ReadAsync(cancellationToken)).SelectMany(group => group.Select(line => KeyValuePair.Create(group.Key, line))));
            }
            catch (Exception error) when (error is not OperationCanceledException)
            {
                log.LogError(error, "{Source} could not say what lies in the incubators", source.GetType().Name);
            }
        }

        return all.ToLookup(pair => pair.Key, pair => pair.Value, StringComparer.Ordinal);
    }
}
