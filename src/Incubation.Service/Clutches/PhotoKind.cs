namespace Incubation.Service.Clutches;

/// <summary>Kinds of picture that are taken.</summary>
internal enum PhotoKind
{
    Jpeg,
    Png,
}
