using System.Collections.Immutable;
using Incubation.Core.Candling;
using NodaTime;

namespace Incubation.Core.Tests.Candling;

internal static class Some
{
    public static Instant Start { get; } = Instant.FromUtc(2026, 5, 1, 20, 0);

    public static Guid Id(int n) => new(n, 0, 0, new byte[8]);

    /// <summary>A look at egg 1 on day <paramref name="n"/> with nothing entered.</summary>
    public static CandlingEntry Look(int n, int egg = 1) => new(
        Id(n), egg, null, null, null, ImmutableArray<string>.Empty, null, null, "", "Mara", Start + Duration.FromDays(n),
        Start + Duration.FromDays(n), null);

    public static CandlingEntry Look(int n, Finding finding) => finding switch
    {
        Finding.Movement => Look(n) with { MovementSeen = true },
        Finding.LooksLikeSlug => Look(n) with { LooksLikeSlug = SlugLook.Yes },
        _ => Look(n) with { Veins = (Veins)(int)finding },
    };
}
