using Incubation.Core.Readings;

namespace Incubation.Storage.Readings;

/// <summary>Readings on their way to the disk, and the task of whoever waits for them. Whatever follows runs off the writer's thread.</summary>
internal sealed class PendingCommit(ReadOnlyMemory<Reading> readings)
    : TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously)
{
    public ReadOnlyMemory<Reading> Readings => readings;
}
