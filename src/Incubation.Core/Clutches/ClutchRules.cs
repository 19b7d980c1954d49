using System.Globalization;
using NodaTime;

namespace Incubation.Core.Clutches;

/// <summary>What may be entered about a clutch, and the words when it may not.</summary>
public static class ClutchRules
{
    /// <summary>Checks a clutch as entered.</summary>
    /// <param name="clutch">The clutch.</param>
    /// <param name="today">The local date in the facility's zone.</param>
    /// <param name="alreadyFinished">Whether it is put on record after its season.</param>
    public static IEnumerable<Remark> Check(Clutch clutch, LocalDate today, bool alreadyFinished = false)
    {
        ArgumentNullException.ThrowIfNull(clutch);
        foreach (Remark remark in CheckLayDate(clutch.Laid, today, alreadyFinished).Concat(CheckCount(clutch.EggCount)))
        {
            yield return remark;
        }

        if (string.IsNullOrWhiteSpace(clutch.Dam) || clutch.Dam.Length > Limits.NameLength)
        {
            yield return Remark.Refused("dam", $"Enter the dam's name, at most {Limits.NameLength} characters; \"unknown\" will do.");
        }

        if (clutch.Sire is { } sire && (string.IsNullOrWhiteSpace(sire) || sire.Length > Limits.NameLength))
        {
            yield return Remark.Refused("sire", $"The sire's name has 1 to {Limits.NameLength} characters; leave it out if there was none.");
        }

        if (clutch.FemaleCelsius is { } female && !(female is >= 10 and <= 45))
        {
            yield return Remark.Refused("femaleCelsius", "The female's temperature is between 10 and 45 °C, or left out.");
        }

        if (clutch.AssumedCelsius is { } assumed && !(assumed is >= 10 and <= 45))
        {
            yield return Remark.Refused("assumedCelsius", "The temperature assumed is between 10 and 45 °C, or left out.");
        }
    }

    /// <summary>Checks a lay date: not ahead, not longer ago than a clutch can lie, its slack 0 to 30 days.</summary>
    public static IEnumerable<Remark> CheckLayDate(LayDate laid, LocalDate today, bool alreadyFinished = false)
    {
        int age = Period.DaysBetween(laid.Date, today);
        if (age < 0)
        {
            yield return Remark.Refused("layDate",
                $"The lay date {Iso(laid.Date)} is still to come (today is {Iso(today)}). Enter the day the eggs were laid.");
        }
        else if (age > Limits.ClutchDays && !alreadyFinished)
        {
            yield return Remark.Refused("layDate", string.Create(CultureInfo.InvariantCulture,
                $"The lay date {Iso(laid.Date)} is {age} days ago; no clutch here lies longer than {Limits.ClutchDays}. ")
                + "Check the month and year, or enter the clutch as already finished.");
        }
        else if (age > 1 && !alreadyFinished)
        {
            yield return Remark.Said("layDate", string.Create(CultureInfo.InvariantCulture,
                $"Entered on day {age}: before today there are only the readings of probes that were placed with it, if any. ")
                + "What was assumed for the rest is said with the forecast.");
        }

        if (laid.SlackDays is < 0 or > 30)
        {
            yield return Remark.Refused("layDateSlackDays", "How far off the lay date may be is 0 to 30 days.");
        }
    }

    /// <summary>Checks an egg count.</summary>
    public static IEnumerable<Remark> CheckCount(int eggs)
    {
        if (eggs < 1)
        {
            yield return Remark.Refused("eggCount", "A clutch has at least one egg: count slugs too.");
        }
        else if (eggs > Limits.EggsPerClutch)
        {
            yield return TooManyEggs("eggCount", eggs);
        }
    }

    /// <summary>Checks the number of an egg that is added to a clutch.</summary>
    /// <param name="number">The number pencilled on it.</param>
    /// <param name="taken">Numbers of the clutch's other eggs.</param>
    public static IEnumerable<Remark> CheckNumber(int number, IReadOnlyCollection<int> taken)
    {
        ArgumentNullException.ThrowIfNull(taken);
        if (number is < 1 or > Limits.EggNumber)
        {
            yield return Remark.Refused("number", $"An egg's number is between 1 and {Limits.EggNumber}, not {number}.");
        }
        else if (taken.Contains(number))
        {
            yield return Remark.Refused("number",
                $"There is an egg {number} in this clutch already. The next free number is {NextFree(taken)}.");
        }

        if (taken.Count >= Limits.EggsPerClutch)
        {
            yield return TooManyEggs("number", taken.Count + 1);
        }
    }

    /// <summary>Two clutches in one tub are allowed, but said: their eggs can be taken for each other's.</summary>
    /// <param name="others">Labels of the clutches already there.</param>
    /// <param name="place">Name of the tub.</param>
    public static IEnumerable<Remark> CheckPlace(IReadOnlyCollection<string> others, string place)
    {
        ArgumentNullException.ThrowIfNull(others);
        if (others.Count > 0)
        {
            yield return Remark.Said("tub",
                $"{string.Join(" and ", others)} {(others.Count == 1 ? "lies" : "lie")} in {place} too. "
                + "Both are kept; make sure that the numbers on the eggs tell them apart.");
        }
    }

    /// <summary>A move needs a time that is neither ahead nor before the clutch was laid.</summary>
    /// <param name="from">When the move took place.</param>
    /// <param name="laid">First instant of the lay date, its slack taken off.</param>
    /// <param name="now">Now.</param>
    public static IEnumerable<Remark> CheckMove(Instant from, Instant laid, Instant now)
    {
        if (from > now + Duration.FromMinutes(5))
        {
            yield return Remark.Refused("from", "The move is still to come: enter it when it has happened.");
        }
        else if (from < laid)
        {
            yield return Remark.Refused("from", "The move is before the eggs were laid: check its date, or the lay date.");
        }
    }

    internal static Remark TooManyEggs(string field, int eggs) => Remark.Refused(field, string.Create(CultureInfo.InvariantCulture,
        $"{eggs} eggs are more than one clutch can have here ({Limits.EggsPerClutch}). If they are truly there, enter them as several clutches."));

    private static int NextFree(IReadOnlyCollection<int> taken) => Enumerable.Range(1, taken.Count + 1).First(n => !taken.Contains(n));

    private static string Iso(LocalDate date) => date.ToString("uuuu-MM-dd", CultureInfo.InvariantCulture);
}
