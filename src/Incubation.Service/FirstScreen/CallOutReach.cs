using Incubation.Service.Calling;
using Incubation.Service.Hosting;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;

namespace Incubation.Service.FirstScreen;

/// <summary>Whether an alarm would reach anybody, from the call-out order and the mail settings.</summary>
internal sealed class CallOutReach(
    IDbContextFactory<RecordsContext> contexts, IOptions<IncubationOptions> options, CallFaults faults, ILogger<CallOutReach> log)
{
    private const string Mail = "mail";

    private bool _failing;

    public async Task<CallOutState> ReadAsync(CancellationToken cancellationToken)
    {
        try
        {
            await using RecordsContext records = await contexts.CreateDbContextAsync(cancellationToken);
            List<CallStepRecord> steps = await records.CallSteps.AsNoTracking().Where(s => s.Enabled)
                .OrderBy(s => s.Position).ToListAsync(cancellationToken);
            _failing = false;
            return Judge(steps, canMail: !string.IsNullOrEmpty(options.Value.Mail.Host), step => faults.Of(step.Id, step.Address));
        }
        catch (Microsoft.Data.Sqlite.SqliteException error)
        {
            // The page must still say what it knows about the incubators.
            if (!_failing)
            {
                log.LogError(error, "The call-out order can't be read");
            }

            _failing = true;
            return new CallOutState(false, "It is not known who would be called: the records can't be read.", NeedsOrder: false, NeedsMail: false);
        }
    }

    /// <summary>The rule itself.</summary>
    /// <param name="steps">Steps that are in use, in their order.</param>
    /// <param name="canMail">Whether a mail server is set.</param>
    /// <param name="faultOf">What went wrong when a step was called last, or null.</param>
    internal static CallOutState Judge(IReadOnlyList<CallStepRecord> steps, bool canMail, Func<CallStepRecord, CallFault?> faultOf)
    {
        if (steps.Count == 0)
        {
            return new CallOutState(false, "Nobody is in the call-out order.", NeedsOrder: true, NeedsMail: false);
        }

        CallStepRecord[] working = [.. steps.Where(s => s.Channel != Mail || canMail)];
        bool needsMail = working.Length < steps.Count;
        if (working.Length == 0)
        {
            return new CallOutState(false, "The call-out order has mail only, and no mail server is set.", NeedsOrder: false, NeedsMail: true);
        }

        (CallStepRecord Step, CallFault Fault)[] failing =
            [.. working.Select(s => (Step: s, Fault: faultOf(s))).Where(f => f.Fault is not null).Select(f => (f.Step, f.Fault!))];
        if (failing.Length > 0)
        {
            // A channel that keeps failing is said before who would be called: it is what has to be mended before tonight.
            return new CallOutState(
                failing.Length < working.Length, string.Join(' ', failing.Select(f => f.Fault.Words(f.Step.Who, f.Step.Channel))),
                NeedsOrder: false, needsMail, failing[0].Step.Who);
        }

        CallStepRecord first = working.MinBy(s => s.AfterSeconds)!;
        string after = first.AfterSeconds == 0 ? "at once" : $"after {Core.FirstScreen.Spoken.Length(NodaTime.Duration.FromSeconds(first.AfterSeconds))}";
        string how = first.Channel == Mail ? "mail" : "webhook";
        return new CallOutState(true, $"{first.Who} is told first, by {how}, {after}.", NeedsOrder: false, needsMail);
    }
}

/// <param name="Reachable">Whether an alarm would reach anybody.</param>
/// <param name="Words">The same in words.</param>
/// <param name="NeedsOrder">Nobody is in the order.</param>
/// <param name="NeedsMail">A step needs mail, and no mail server is set.</param>
/// <param name="Failing">Who could not be reached the last time, or null.</param>
internal sealed record CallOutState(bool Reachable, string Words, bool NeedsOrder, bool NeedsMail, string? Failing = null);
