using Incubation.Service.Clutches;
using Incubation.Service.Hosting;
using NodaTime;

namespace Incubation.Service.Development;

/// <summary>Makes the forecasts anew before they get old, so that nobody in the egg room waits for one.</summary>
internal sealed class ForecastKeeping(WorkerSupport support, HatchForecasts forecasts, ClutchBook book)
    : SupervisedWorker(support, "forecasts")
{
    private static readonly Duration Every = HatchForecasts.LineAge - Duration.FromMinutes(1);

    protected override async Task RunAsync(CancellationToken stop)
    {
        while (true)
        {
            foreach (BookedClutch clutch in book.Current.Clutches.Values)
            {
                await KeepAsync(clutch, stop);
                Progress();
            }

            await Task.Delay(Every.ToTimeSpan(), Time, stop);
        }
    }

    private async Task KeepAsync(BookedClutch clutch, CancellationToken stop)
    {
        try
        {
            // Half the pause: what a page has just made is new enough.
            await forecasts.OfAsync(clutch, Every / 2, stop);
        }
#pragma warning disable CA1031 // A clutch whose forecast fails must end neither the others' nor, by failing again and again, the service.
        catch (Exception error) when (error is not OperationCanceledException)
#pragma warning restore CA1031
        {
            Log.LogError(error, "No forecast could be made for clutch {Clutch}", clutch.Clutch.Label);
        }
    }
}
