using Incubation.Core.Readings;
using NodaTime;

namespace Incubation.Service.Readings;

/// <summary>A file that is being read, for a trial or in earnest.</summary>
/// <param name="id">Its id.</param>
/// <param name="plan">How it is read.</param>
/// <param name="dry">Whether it is a trial: nothing is stored.</param>
/// <param name="digest">SHA-256 of the file that was sent, hex.</param>
/// <param name="from">What came of it so far.</param>
/// <param name="startedAt">Steady time.</param>
#pragma warning disable CA1001 // A source of cancellation without a timer holds nothing that must be freed, and a stop may come as the job ends.
internal sealed class ImportJob(Guid id, ImportPlan plan, bool dry, string digest, ImportOutcome from, Instant startedAt)
#pragma warning restore CA1001
{
    private readonly CancellationTokenSource _halt = new();
    private volatile ImportOutcome _now = from;

    public Guid Id => id;

    public ImportPlan Plan => plan;

    public bool Dry => dry;

    public string Digest => digest;

    /// <summary>What had come of it when it began or was gone on with.</summary>
    public ImportOutcome From { get; } = from;

    public Instant StartedAt => startedAt;

    /// <summary>What came of it so far; for a run, as far as it is stored for good.</summary>
    public ImportOutcome Now
    {
        get => _now;
        set => _now = value;
    }

    /// <summary>Cancelled when somebody stops it.</summary>
    public CancellationToken Halt => _halt.Token;

    /// <summary>Completes when it has ended and that is written down.</summary>
    public TaskCompletionSource Ended { get; } = new(TaskCreationOptions.RunContinuationsAsynchronously);

    public void Stop() => _halt.Cancel();
}
