using Incubation.Service.Alarms;
using Incubation.Service.Hosting;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;

namespace Incubation.Service.Calling;

/// <summary>Calling people: the order, the outbox, the channels, the links by which they answer.</summary>
internal static class CallingRegistration
{
    /// <summary>After AddAlarms: calls are loaded once the alarms are.</summary>
    internal static IServiceCollection AddCalling(this IServiceCollection services)
    {
        services.AddSingleton<CallPlan>();
        services.AddSingleton<ICallPlan>(s => s.GetRequiredService<CallPlan>());
        services.AddSingleton<CallOrder>();
        services.AddSingleton<AnswerLinks>();
        services.AddSingleton<ICallSender, MailSender>();
        services.AddSingleton<ICallSender, WebhookSender>();
        services.AddSingleton<CallFaults>();
        services.AddSingleton<CallRecords>();
        services.AddSingleton<Outbox>();
        services.AddSingleton<CallTests>();
        services.AddSingleton<AnswerWords>();
        services.AddSingleton<CallDesk>();
        services.AddSingleton<IStartupStep, LoadCalls>();
        services.AddHostedService<CallWorker>();
        services.AddHostedService<Rehearsal>();
        return services;
    }

    internal static RouteGroupBuilder MapCalling(this RouteGroupBuilder api)
    {
        CallOutEndpoints.Map(api);
        return api;
    }

    /// <summary>The pages behind answer links, outside <c>/api</c>.</summary>
    internal static void MapAnswers(this IEndpointRouteBuilder app) => AnswerEndpoints.Map(app);
}

/// <summary>Reads who is called and what was said before the restart.</summary>
internal sealed class LoadCalls(CallDesk desk, IDbContextFactory<RecordsContext> records) : IStartupStep
{
    public StartupStage Stage => StartupStage.Alarms;

    public Task RunAsync(CancellationToken cancellationToken) => desk.LoadAsync(records, cancellationToken);
}

/// <summary>Keeps the call desk at work.</summary>
internal sealed class CallWorker(WorkerSupport support, CallDesk desk) : SupervisedWorker(support, "call-out")
{
    protected override Task RunAsync(CancellationToken stop) => desk.RunAsync(Progress, stop);
}
