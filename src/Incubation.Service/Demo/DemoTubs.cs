using Incubation.Core.Care;
using Incubation.Storage.Records;
using NodaTime;

namespace Incubation.Service.Demo;

/// <summary>The demo's tubs. They are washed and used again each season, where they always stand.</summary>
internal static class DemoTubs
{
    /// <summary>The tub that has just been filled, and that nobody has put into an incubator by the record.</summary>
    public const string NotPlaced = "tub-10";

    /// <summary>The tub that was moved from Linden to Rowan while its clutch lay in it.</summary>
    public const string Moved = "tub-4";

    private static readonly (string Key, string Substrate, double Grams, double Water, string? Incubator, string? Shelf)[] All =
    [
        ("tub-1", "vermiculite", 500, 420, DemoFacility.Hazel, "upper"),
        ("tub-2", "vermiculite", 500, 420, DemoFacility.Hazel, "lower"),
        ("tub-3", "grid over water", 0, 600, DemoFacility.Rowan, "upper"),
        ("tub-4", "perlite", 600, 650, DemoFacility.Linden, "lower"),
        ("tub-5", "vermiculite", 500, 430, DemoFacility.Linden, "upper"),
        ("tub-6", "vermiculite", 450, 380, DemoFacility.Linden, "lower"),
        ("tub-7", "grid over water", 0, 350, DemoFacility.Juniper, null),
        ("tub-8", "vermiculite", 400, 280, DemoFacility.Sorrel, "left"),
        ("tub-9", "sphagnum moss", 120, 200, DemoFacility.Sorrel, "right"),
        (NotPlaced, "vermiculite", 500, 430, null, null),
    ];

    /// <summary>When the moved tub was moved: in the evening of its clutch's fifth day.</summary>
    public static Instant MovedAt(DemoCalendar calendar)
        => calendar.At(calendar.Day(DemoClutches.Moved.DaysAgo).PlusDays(DemoClutches.MovedOnDay), 20.1);

    public static string Name(string tub) => $"Tub {tub["tub-".Length..]}";

    /// <summary>The tub that a probe lies in by the demo's words, or null in the air.</summary>
    public static string? In(string where) => All.Select(tub => tub.Key).FirstOrDefault(key => where.StartsWith(Name(key) + ",", StringComparison.Ordinal));

    public static void Write(DemoBook book, DemoCalendar calendar, DemoIds ids)
    {
        var since = calendar.At(DemoPast.FacilityDays, 12);
        foreach (var (key, substrate, grams, water, incubator, shelf) in All)
        {
            // The one that is not placed yet was filled the morning its clutch was pulled.
            var entered = incubator is null ? calendar.At(DemoClutches.NotWatched.DaysAgo, 8.5) : since;
            book.Tubs.Add(new TubRecord
            {
                Key = key,
                Name = Name(key),
                Substrate = substrate,
                SubstrateGrams = grams > 0 ? grams : null,
                WaterGrams = water,
                By = DemoFacility.Keeper,
                EnteredAt = entered,
            });
            if (incubator is null)
            {
                continue;
            }
            var moved = key == Moved ? MovedAt(calendar) : (Instant?)null;
            book.TubPlacements.Add(Stay(key, incubator, shelf, since, moved));
            if (moved is { } at)
            {
                book.TubPlacements.Add(Stay(key, DemoFacility.Rowan, "lower", at, null));
                book.Care.Add(new DemoChore(at, CareTarget.Tub, key, CareKind.Move, null, "From Linden to Rowan, lower shelf: more room there.",
                    DemoFacility.Keeper).Line(ids.Next()));
            }
        }

        TubPlacementRecord Stay(string tub, string incubator, string? shelf, Instant from, Instant? until) => new()
        {
            Id = ids.Next(),
            Tub = tub,
            Incubator = incubator,
            Shelf = shelf,
            From = from,
            Until = until,
            By = DemoFacility.Keeper,
            EnteredAt = from,
        };
    }
}
