using System.Globalization;
using System.Text.Json;

namespace Incubation.Benchmarks;

/// <summary>Which side of its bound a figure has to be on.</summary>
internal enum Bound
{
    AtLeast,
    AtMost,
}

/// <summary>One measured figure beside its bound.</summary>
internal sealed record Figure(string Name, double Value, string Unit, string Bound, bool Holds);

/// <summary>Collects figures and says each on a line of its own: <c>FIGURE area/name value unit bound holds|falls-short</c>.</summary>
internal sealed class Figures
{
    private static readonly JsonSerializerOptions Shape = new() { PropertyNamingPolicy = JsonNamingPolicy.CamelCase, WriteIndented = true };

    private readonly List<Figure> _all = [];

    public bool AllHold => _all.TrueForAll(figure => figure.Holds);

    /// <summary>A figure with a bound.</summary>
    public void Add(string name, double value, string unit, Bound side, double bound)
        => Say(new Figure(name, value, unit, (side == Bound.AtLeast ? ">=" : "<=") + Text(bound), side == Bound.AtLeast ? value >= bound : value <= bound));

    /// <summary>A figure that others are measured against; it has no bound and always holds.</summary>
    public void AddBeside(string name, double value, string unit) => Say(new Figure(name, value, unit, "none", true));

    public Task WriteAsync(string file, CancellationToken stop) => File.WriteAllTextAsync(file, JsonSerializer.Serialize(_all, Shape) + "\n", stop);

    /// <summary>The value that half of them are below.</summary>
    public static double Median(IEnumerable<double> values) => Quantile(values, 0.5);

    /// <summary>Linear between the order statistics (Hyndman and Fan 1996, definition 7).</summary>
    public static double Quantile(IEnumerable<double> values, double share)
    {
        double[] sorted = [.. values.Order()];
        double at = share * (sorted.Length - 1);
        int below = (int)at;
        return below + 1 < sorted.Length ? sorted[below] + ((at - below) * (sorted[below + 1] - sorted[below])) : sorted[below];
    }

    private void Say(Figure figure)
    {
        _all.Add(figure);
        Console.WriteLine($"FIGURE {figure.Name} {Text(figure.Value)} {figure.Unit} {figure.Bound} {(figure.Holds ? "holds" : "falls-short")}");
    }

    private static string Text(double value) => value.ToString(Math.Abs(value) >= 1000 ? "0" : "0.###", CultureInfo.InvariantCulture);
}
