using System.Security.Cryptography;
using Incubation.Core.Alarms;
using Incubation.Core.Readings;
using Incubation.Service.Alarms;
using Incubation.Service.Hosting;
using Incubation.Storage.Records;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Storage;
using NodaTime;

namespace Incubation.Service.Calling;

/// <summary>
/// Goes once through a made-up alarm after the start: raises it in an engine of its own, words it, writes its rows and takes them back,
/// and posts the call to an answer link of our own that does not exist. Nobody is told and nothing stays, but the code of the way is
/// warm: without this the first alarm of a night is heard a tenth of a second later than every other.
/// </summary>
internal sealed class Rehearsal(
    AlarmSpeech speech, IDbContextFactory<RecordsContext> records, ServiceClock clock, IServer server, IHostApplicationLifetime lifetime,
    IEnumerable<ICallSender> senders, ILogger<Rehearsal> log) : BackgroundService
{
    private static readonly AlarmKey Key = new("rehearsal", "", Quantity.Temperature, AlarmCondition.High, AlarmSeverity.Warning);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        try
        {
            TaskCompletionSource started = new(TaskCreationOptions.RunContinuationsAsynchronously);
            using CancellationTokenRegistration when = lifetime.ApplicationStarted.Register(started.SetResult);
            await started.Task.WaitAsync(stoppingToken);
            AlarmChange change = Raise();
            CallMessage message = Message(change);
            await WriteAndTakeBackAsync(change, message, stoppingToken);
            await SendAsync(message, stoppingToken);
        }
#pragma warning disable CA1031 // A rehearsal that fails costs a tenth of a second; it must cost nothing else.
        catch (Exception error) when (error is not OperationCanceledException)
#pragma warning restore CA1031
        {
            log.LogDebug(error, "The rehearsal of a call did not come to its end");
        }
        catch (OperationCanceledException)
        {
            // The service stops.
        }
    }

    private AlarmChange Raise()
    {
        Instant now = clock.Steady;
        var at = new AlarmTime(now, Duration.Zero);
        List<AlarmChange> changes = [];
        AlarmEngine engine = new(() => Guid.CreateVersion7(clock.Provider.GetUtcNow()));
        Band band = new(Key.Incubator, Key.Quantity, null, null, 30, null, 0, Duration.Zero, Duration.Zero, Duration.Zero, Duration.FromHours(1));
        engine.Arrange([Key.Incubator], [band], [new ProbePlace("rehearsal", Key.Incubator)], [], at, changes);
        engine.Observe(new Reading(new SeriesKey("rehearsal", Key.Quantity), 31, now, now, ReadingMarks.None), at, changes);
        engine.Advance(at, changes);
        return changes.First(c => c.Step == AlarmStep.Raised);
    }

    private CallMessage Message(AlarmChange change)
    {
        var alarm = new StandingAlarm(
            change.Alarm.Occurrence, Key, AlarmState.Unacknowledged, clock.Wall, 31, 30, 31, null, null, null, null);
        AlarmView view = AlarmView.Of(alarm, speech);
        return new CallMessage(
            CallMessage.Test, clock.Wall, speech.Line(alarm),
            new CallData(
                alarm.Occurrence, view.Incubator, view.IncubatorName, view.Probe, view.Quantity, Key.Quantity.Unit, view.Condition, view.Severity,
                view.State, alarm.Value, alarm.Limit, alarm.RaisedAt, view.Words, null));
    }

    private async Task WriteAndTakeBackAsync(AlarmChange change, CallMessage message, CancellationToken stop)
    {
        await using RecordsContext context = await records.CreateDbContextAsync(stop);
        await using IDbContextTransaction transaction = await context.Database.BeginTransactionAsync(stop);
        context.AlarmJournal.Add(AlarmRows.Journal(change, speech.Say(change), null));
        context.AlarmStates.Add(new AlarmStateRecord { Key = "rehearsal", Snapshot = AlarmRows.Snapshot(change.Alarm), ChangedAt = clock.Wall });
        context.AnswerLinks.Add(new AnswerLinkRecord { TokenHash = "rehearsal", Occurrence = change.Alarm.Occurrence, Who = "", CreatedAt = clock.Wall });
        context.Calls.Add(new CallRecord
        {
            Id = "rehearsal",
            Occurrence = change.Alarm.Occurrence,
            Who = "",
            Channel = "webhook",
            Address = "",
            Status = "not needed",
            CreatedAt = clock.Wall,
            Message = message.Json(),
        });
        await context.SaveChangesAsync(stop);
        await transaction.RollbackAsync(stop);
    }

    private async Task SendAsync(CallMessage message, CancellationToken stop)
    {
        string? own = server.Features.Get<IServerAddressesFeature>()?.Addresses.FirstOrDefault();
        ICallSender? webhook = senders.FirstOrDefault(s => s.Channel == "webhook");
        if (own is null || webhook is null)
        {
            return;
        }

        // No such link exists, so the answer is "unknown": the way there and back is what matters.
        string address = $"{own.Replace("*", "localhost", StringComparison.Ordinal).Replace("[::]", "localhost", StringComparison.Ordinal)}/answer/rehearsal";
        string secret = $"whsec_{Convert.ToBase64String(RandomNumberGenerator.GetBytes(24))}";
        await webhook.SendAsync(new OutgoingCall("rehearsal", message.Data.Occurrence, "", address, secret, message, address), stop);
    }
}
