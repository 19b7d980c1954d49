namespace Incubation.Core.Candling;

/// <summary>A term for something on the shell, which the keeper may change.</summary>
/// <param name="Key">Short name that never changes.</param>
/// <param name="Word">The word shown.</param>
/// <param name="Meaning">What it means.</param>
public sealed record ShellTerm(string Key, string Word, string Meaning);

/// <summary>The words of candling; defaults are common practice, no source.</summary>
public static class CandlingWords
{
    /// <summary>Shell terms a new facility begins with.</summary>
    public static IReadOnlyList<ShellTerm> ShellTerms { get; } =
    [
        new("dented", "dented", "Dimples in the shell. Early on the egg is drying; in the last days it is usual."),
        new("sweating", "sweating", "Drops on the shell. Often shortly before pip."),
        new("leaking", "leaking", "Fluid comes out of the shell."),
        new("window", "window", "A clear patch in the shell."),
        new("mould", "mould", "Mould on the shell."),
        new("gap", "gap under the shell", "An empty space under the top of the shell."),
    ];

    /// <summary>The vein word shown and sent.</summary>
    public static string Word(Veins veins) => veins switch
    {
        Veins.None => "none",
        Veins.Spot => "spot",
        Veins.Spreading => "spreading",
        Veins.FullNet => "full net",
        Veins.Fading => "fading",
        _ => "ring",
    };

    /// <summary>The answer to "looks like a slug".</summary>
    public static string Word(SlugLook look) => look switch
    {
        SlugLook.Yes => "yes",
        SlugLook.Unsure => "unsure",
        _ => "no",
    };

    /// <summary>The status word shown and sent.</summary>
    public static string Word(EggStatus status) => status switch
    {
        EggStatus.NotLookedAt => "not looked at",
        EggStatus.Developing => "developing",
        EggStatus.Doubtful => "doubtful",
        EggStatus.Slug => "slug",
        EggStatus.Dead => "dead",
        EggStatus.Pipped => "pipped",
        _ => "hatched",
    };

    /// <summary>The finding's word, as the table of rules shows it.</summary>
    public static string Word(Finding finding) => finding switch
    {
        Finding.NoVeins => "no veins",
        Finding.Spot => "spot",
        Finding.Spreading => "spreading",
        Finding.FullNet => "full net",
        Finding.Fading => "fading",
        Finding.Ring => "ring",
        Finding.Movement => "movement",
        _ => "looks like a slug",
    };

    /// <summary>The veins of a word, or null.</summary>
    public static Veins? VeinsOf(string? word) => Pick(Enum.GetValues<Veins>(), Word, word);

    /// <summary>The slug answer of a word, or null.</summary>
    public static SlugLook? SlugLookOf(string? word) => Pick(Enum.GetValues<SlugLook>(), Word, word);

    private static T? Pick<T>(IEnumerable<T> values, Func<T, string> word, string? wanted) where T : struct =>
        values.Where(value => word(value) == wanted).Select(value => (T?)value).FirstOrDefault();
}
