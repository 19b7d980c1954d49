using Incubation.Service.Http;
using Incubation.Service.People;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Incubation.Service.Calling;

/// <summary>A step as it is shown: its secret never is.</summary>
internal sealed record CallStepView(
    Guid Id, int Position, string Who, string Channel, string Address, bool HasSecret, int AfterSeconds, int RepeatSeconds, bool Enabled);

/// <summary>The whole order.</summary>
internal sealed record CallOrderView(IReadOnlyList<CallStepView> Steps);

/// <summary>Which step is tested.</summary>
internal sealed record CallTestRequest(Guid? Step);

/// <summary>HTTP face of the call-out order.</summary>
internal static class CallOutEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        RouteGroupBuilder group = api.MapGroup("/call-out").WithTags("Call-out");
        group.MapGet("/", Show).WithName("getCallOut").WithSummary("Who is called, how and when.");
        group.MapPut("/", Replace).WithName("setCallOut").WithSummary("Sets the whole call-out order.")
            .RequireAuthorization(Policies.Keeper).ProducesProblem(StatusCodes.Status400BadRequest);
        group.MapPost("/tests", Test).WithName("testCallOut").WithSummary("Calls one step once, marked as a test.")
            .RequireAuthorization(Policies.Keeper)
            .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status404NotFound);
        group.MapGet("/tests/{id:guid}", TestState).WithName("getCallOutTest").WithSummary("Whether a test was delivered, and whether its link was used.")
            .ProducesProblem(StatusCodes.Status404NotFound);
    }

    private static Ok<CallOrderView> Show(CallOrder order) => TypedResults.Ok(View(order));

    private static async Task<Results<Ok<CallOrderView>, ProblemHttpResult>> Replace(
        CallOrderRequest request, CallOrder order, CancellationToken cancellationToken)
    {
        (var rows, var errors) = CallOrderCheck.Read(request, order.Steps);
        if (errors.Count > 0)
        {
            return Problems.Invalid(errors);
        }

        await order.ReplaceAsync(rows, cancellationToken);
        return TypedResults.Ok(View(order));
    }

    private static async Task<Results<Ok<CallTestView>, ProblemHttpResult>> Test(
        CallTestRequest request, CallOrder order, CallTests tests, CancellationToken cancellationToken)
    {
        if (request.Step is not { } id)
        {
            return Problems.Invalid("step", "the id of a step of the call-out order.");
        }

        if (order.Steps.FirstOrDefault(s => s.Step.Id == id) is not { } step)
        {
            return Problems.NotFound($"The call-out order has no step {id}.");
        }

        return TypedResults.Ok(await tests.SendAsync(step, cancellationToken));
    }

    private static Results<Ok<CallTestView>, ProblemHttpResult> TestState(Guid id, CallTests tests)
        => tests.Find(id) is { } test ? TypedResults.Ok(test) : Problems.NotFound($"No test {id} was sent lately.");

    private static CallOrderView View(CallOrder order) => new([.. order.Steps.Select((s, i) => new CallStepView(
        s.Step.Id, i, s.Step.Who, s.Channel, s.Address, s.Secret is not null,
        (int)s.Step.After.TotalSeconds, (int)s.Step.Repeat.TotalSeconds, s.Enabled))]);
}
