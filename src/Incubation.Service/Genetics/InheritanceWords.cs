using Incubation.Core.Genetics;

namespace Incubation.Service.Genetics;

/// <summary>The words of inheritance on the wire and in the records.</summary>
internal static class InheritanceWords
{
    public const string Allowed = "recessive, dominant or incomplete dominant.";

    public static string Word(Inheritance inheritance) => inheritance switch
    {
        Inheritance.Recessive => "recessive",
        Inheritance.Dominant => "dominant",
        _ => "incomplete dominant",
    };

    public static Inheritance? Read(string? word) => word switch
    {
        "recessive" => Inheritance.Recessive,
        "dominant" => Inheritance.Dominant,
        "incomplete dominant" => Inheritance.IncompleteDominant,
        _ => null,
    };
}
