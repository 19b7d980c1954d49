using Incubation.Core.Readings;

namespace Incubation.Service.Probes;

/// <summary>Troubles as they go over the wire.</summary>
internal static class TroubleWords
{
    public static TroubleView Of(Trouble trouble) => new(
        trouble.Kind switch
        {
            TroubleKind.Stuck => "stuck",
            TroubleKind.Jump => "jump",
            TroubleKind.Noise => "noise",
            TroubleKind.Disagrees => "disagrees",
            _ => "outside the tub",
        },
        trouble.Series.Quantity.Name, trouble.Since, trouble.Words,
        [.. trouble.Evidence.Select(point => new[] { point.At.ToUnixTimeMilliseconds(), Math.Round(point.Value, 4) })], trouble.Against);
}
