using System.Globalization;
using Incubation.Core.Clutches;
using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>
/// What may be entered as a calibration, and the words when it may not. The bounds are common practice, no source: they tell a probe that is a
/// little off from one that is broken and from a slip of the finger.
/// </summary>
public static class CalibrationRules
{
    /// <summary>Least distance of two points: with 0.1 K of error at each, the slope is then 2 % off at most; closer, it would be made of noise.</summary>
    public static double LeastApart(Quantity quantity) => IsTemperature(quantity) ? 10 : 20;

    /// <summary>Least and greatest slope of a probe that works.</summary>
    public static (double Least, double Most) Gains(Quantity quantity) => IsTemperature(quantity) ? (0.9, 1.1) : (0.8, 1.25);

    /// <summary>A correction of more than this is asked about, in the quantity's unit.</summary>
    public static double AskedAbove(Quantity quantity) => IsTemperature(quantity) ? 2 : 10;

    /// <summary>A correction of more than this is refused, in the quantity's unit: such a probe is broken.</summary>
    public static double RefusedAbove(Quantity quantity) => IsTemperature(quantity) ? 10 : 30;

    /// <summary>Months after which a calibration is suggested to be repeated: common practice, no source.</summary>
    public static int UsualMonths(Quantity quantity) => IsTemperature(quantity) ? 12 : 6;

    /// <summary>Whether a quantity can be calibrated here: it is held in °C or %RH.</summary>
    public static bool CanBe(Quantity quantity) => quantity.Unit is "Cel" or "%RH";

    /// <summary>Checks an entry by itself.</summary>
    /// <param name="entry">The entry, not a withdrawal.</param>
    /// <param name="now">Now: it can't hold from the future on.</param>
    /// <param name="sure">Whether the keeper was asked about a large correction and stays with it.</param>
    public static IEnumerable<Remark> Check(CalibrationEntry entry, Instant now, bool sure)
    {
        ArgumentNullException.ThrowIfNull(entry);
        Quantity quantity = entry.Series.Quantity;
        if (!CanBe(quantity))
        {
            return [Remark.Refused("quantity", "Temperature or humidity: nothing else is calibrated here.")];
        }

        List<Remark> remarks = [];
        bool thermometer = entry.Method is CalibrationMethod.IceBath or CalibrationMethod.ReferenceThermometer;
        if (thermometer != IsTemperature(quantity))
        {
            remarks.Add(Remark.Refused("method", IsTemperature(quantity)
                ? "Temperature is compared in an ice bath or with a reference thermometer."
                : "Humidity is compared over a saturated salt or with a reference hygrometer."));
        }

        // A phone's clock may be a little ahead of ours.
        if (entry.From > now + Duration.FromMinutes(1))
        {
            remarks.Add(Remark.Refused("from", "A time that is not in the future: a calibration holds from when it was done."));
        }

        if (entry.NextDue is { } due && due <= entry.From.InUtc().Date)
        {
            remarks.Add(Remark.Refused("nextDue", "A day after the calibration."));
        }

        remarks.AddRange(entry.Points.Length is 1 or 2 ? Points(entry, quantity) : [Remark.Refused("points", "One point for an offset, or two for slope and offset.")]);
        if (!remarks.Exists(remark => remark.Refuses))
        {
            remarks.AddRange(entry.Points.Length == 2 ? Slope(entry, quantity) : []);
            remarks.AddRange(remarks.Exists(remark => remark.Refuses) ? [] : Size(entry, quantity, sure));
        }

        return remarks;
    }

    private static IEnumerable<Remark> Points(CalibrationEntry entry, Quantity quantity)
    {
        bool temperature = IsTemperature(quantity);
        (double least, double most) = temperature ? (ReadingJudge.LeastCelsius, ReadingJudge.GreatestCelsius) : (0, 100);
        foreach (CalibrationPoint point in entry.Points)
        {
            if (!temperature && point.Measured is >= ReadingJudge.SaturatedFrom and <= ReadingJudge.SaturatedTo)
            {
                yield return Remark.Refused("points", "A hygrometer that says 100 %RH or more is saturated and can't be compared there: let it dry, or use a drier point.");
            }
            else if (!(point.Measured >= least && point.Measured <= most))
            {
                yield return Remark.Refused("points", $"What the probe said is from {Say(least, quantity)} to {Say(most, quantity)}.");
            }

            if (!(point.Truth >= least && point.Truth <= most))
            {
                yield return Remark.Refused("points", $"What was true is from {Say(least, quantity)} to {Say(most, quantity)}.");
            }
        }
    }

    private static IEnumerable<Remark> Slope(CalibrationEntry entry, Quantity quantity)
    {
        double apart = Math.Abs(entry.Points[1].Truth - entry.Points[0].Truth);
        if (apart < LeastApart(quantity))
        {
            yield return Remark.Refused("points",
                $"The two points are {Say(apart, quantity)} apart; at least {Say(LeastApart(quantity), quantity)} are needed to tell a slope. Take points further apart, or only one.");
            yield break;
        }

        (double least, double most) = Gains(quantity);
        if (!(entry.Gain >= least && entry.Gain <= most))
        {
            string slope = double.IsFinite(entry.Gain) ? string.Create(CultureInfo.InvariantCulture, $"{entry.Gain:0.00}") : "none at all";
            yield return Remark.Refused("points", string.Create(CultureInfo.InvariantCulture,
                $"The slope comes out as {slope}; a probe that works has {least:0.##} to {most:0.##}. ")
                + "Check which figure belongs to which point and the units; if they are right, the probe is broken.");
        }
    }

    private static IEnumerable<Remark> Size(CalibrationEntry entry, Quantity quantity, bool sure)
    {
        double largest = entry.Points.Max(point => Math.Abs(point.Truth - point.Measured));
        if (largest > RefusedAbove(quantity))
        {
            yield return Remark.Refused("points",
                $"The probe would be {Say(largest, quantity)} off. More than {Say(RefusedAbove(quantity), quantity)} is a broken probe or a slip: check the figures and units, or replace it.");
        }
        else if (largest > AskedAbove(quantity) && !sure)
        {
            yield return Remark.Refused("sure",
                $"The probe would be {Say(largest, quantity)} off, more than the usual {Say(AskedAbove(quantity), quantity)}. Is that right? "
                + "Did it rest at the point for long enough, and is the figure in the right unit? If it is right, say so with \"sure\": true.");
        }

        if (entry.Points.Length == 1)
        {
            yield return Remark.Said("points", "One point tells an offset; how far the probe is off elsewhere is not known. Take it near the value you keep.");
        }
    }

    private static bool IsTemperature(Quantity quantity) => quantity.Unit == "Cel";

    private static string Say(double value, Quantity quantity)
        => string.Create(CultureInfo.InvariantCulture, $"{value:0.##} {(IsTemperature(quantity) ? "°C" : "%RH")}");
}
