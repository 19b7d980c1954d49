namespace Incubation.Service.Tint;

/// <summary>A word of the keeper's for the colour an egg glows.</summary>
internal sealed record TintView(string Key, string Word, string Meaning, string Colour, int Position);

/// <summary>What a tint is called, what the keeper means by it, and the colour it is drawn in.</summary>
internal sealed record TintRequest(string? Word, string? Meaning, string? Colour);
