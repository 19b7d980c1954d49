using Incubation.Core.Development;

namespace Incubation.Service.Clutches;

/// <summary>
/// Asks the rooms that forecast and count, and goes on without them when they fail: a broken history must hide neither the eggs
/// nor the first screen.
/// </summary>
internal sealed class ClutchForecasts(IClutchForecast forecast, IClutchGenetics genetics, ILogger<ClutchForecasts> log)
{
    private const string Broken = "The forecast can't be made at the moment; the log says why. The eggs below are whole.";

    /// <summary>Null for a finished clutch: there is nothing to come.</summary>
    public async ValueTask<LineForecast?> LineAsync(BookedClutch clutch, CancellationToken cancellationToken)
    {
        if (clutch.FinishedAt is not null)
        {
            return null;
        }

        try
        {
            return await forecast.LineAsync(clutch, cancellationToken);
        }
        catch (Exception error) when (error is not OperationCanceledException)
        {
            log.LogError(error, "No forecast for {Clutch}", clutch.Key);
            return null;
        }
    }

    public async ValueTask<PageForecast> PageAsync(BookedClutch clutch, TemperatureScale scale, CancellationToken cancellationToken)
    {
        try
        {
            return await forecast.PageAsync(clutch, scale, cancellationToken);
        }
        catch (Exception error) when (error is not OperationCanceledException)
        {
            log.LogError(error, "No forecast for {Clutch}", clutch.Key);
            return new PageForecast(null, Broken);
        }
    }

    public async ValueTask<IReadOnlyList<PairingView>> PairingsAsync(BookedClutch clutch, CancellationToken cancellationToken)
    {
        try
        {
            return await genetics.PairingsAsync(clutch, cancellationToken);
        }
        catch (Exception error) when (error is not OperationCanceledException)
        {
            log.LogError(error, "No pairings for {Clutch}", clutch.Key);
            return [];
        }
    }
}
