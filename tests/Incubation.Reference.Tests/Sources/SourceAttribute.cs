namespace Incubation.Reference.Tests.Sources;

/// <summary>Where the figures that a check asserts were published. A check that rests on several carries several.</summary>
/// <param name="author">Who published it: "Nystrom, M.".</param>
/// <param name="year">When.</param>
/// <param name="title">Title of the publication.</param>
/// <param name="place">Table, section or figure.</param>
[AttributeUsage(AttributeTargets.Method, AllowMultiple = true)]
internal sealed class SourceAttribute(string author, int year, string title, string place) : Attribute
{
    public string Author => author;
    public int Year => year;
    public string Title => title;
    public string Place => place;

    /// <summary>What a reader should know about how the figures were come by: "recomputed", "the standard itself was not at hand", …</summary>
    public string? Remark { get; init; }

    public override string ToString() => $"{author} ({year}), {title}, {place}{(Remark is null ? "" : $"; {Remark}")}";
}

/// <summary>The figures of a check have no publication to point to, and it says so.</summary>
/// <param name="basis"><see cref="CommonPractice"/> or <see cref="FromMemory"/>.</param>
[AttributeUsage(AttributeTargets.Method, AllowMultiple = true)]
internal sealed class NoSourceAttribute(string basis) : Attribute
{
    /// <summary>Many do it so; nobody in particular said it.</summary>
    public const string CommonPractice = "common practice, no source";

    /// <summary>Remembered from a publication that was not at hand.</summary>
    public const string FromMemory = "from memory";

    public string Basis => basis;

    /// <summary>What a reader should know besides.</summary>
    public string? Remark { get; init; }

    public override string ToString() => Remark is null ? basis : $"{basis}: {Remark}";
}
