namespace Incubation.Storage.Readings.Rollups;

/// <summary>Count, sum, least and greatest of some good readings; all zero for none.</summary>
internal readonly record struct RollupSum(long Count, double Total, double Least, double Greatest)
{
    public static RollupSum Of(double value) => new(1, value, value, value);

    /// <summary>Both together. Minutes make hours and hours make days, so that rounding grows with the levels and not with the readings.</summary>
    public RollupSum With(in RollupSum more) => Count == 0 ? more : more.Count == 0 ? this : new RollupSum(
        Count + more.Count, Total + more.Total, Math.Min(Least, more.Least), Math.Max(Greatest, more.Greatest));

    public RollupSum With(double value) => Count == 0 ? Of(value) : new RollupSum(
        Count + 1, Total + value, Math.Min(Least, value), Math.Max(Greatest, value));
}
