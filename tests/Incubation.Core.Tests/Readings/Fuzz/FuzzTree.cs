using System.Text;
using System.Text.Json;

namespace Incubation.Core.Tests.Readings.Fuzz;

/// <summary>A payload as a tree that can be changed and written out, right or wrong: fields may be there twice and atoms may be no JSON.</summary>
internal abstract class FuzzTree
{
    public static FuzzTree Parse(string json)
    {
        using JsonDocument document = JsonDocument.Parse(json);
        return Of(document.RootElement);
    }

    public abstract FuzzTree Copy();

    public abstract void WriteJson(StringBuilder text);

    /// <summary>This and everything in it.</summary>
    public abstract IEnumerable<FuzzTree> All();

    private static FuzzTree Of(JsonElement element) => element.ValueKind switch
    {
        JsonValueKind.Object => new FuzzObject([.. element.EnumerateObject().Select(p => (p.Name, Of(p.Value)))]),
        JsonValueKind.Array => new FuzzList([.. element.EnumerateArray().Select(Of)]),
        _ => new FuzzAtom(element.GetRawText()),
    };
}

internal sealed class FuzzObject(List<(string Name, FuzzTree Value)> fields) : FuzzTree
{
    public List<(string Name, FuzzTree Value)> Fields { get; } = fields;

    public override FuzzTree Copy() => new FuzzObject([.. Fields.Select(f => (f.Name, f.Value.Copy()))]);

    public override void WriteJson(StringBuilder text)
    {
        text.Append('{');
        for (int i = 0; i < Fields.Count; i++)
        {
            text.Append(i == 0 ? "\"" : ",\"").Append(Fields[i].Name).Append("\":");
            Fields[i].Value.WriteJson(text);
        }

        text.Append('}');
    }

    public override IEnumerable<FuzzTree> All() => Fields.SelectMany(f => f.Value.All()).Prepend(this);
}

internal sealed class FuzzList(List<FuzzTree> items) : FuzzTree
{
    public List<FuzzTree> Items { get; } = items;

    public override FuzzTree Copy() => new FuzzList([.. Items.Select(i => i.Copy())]);

    public override void WriteJson(StringBuilder text)
    {
        text.Append('[');
        for (int i = 0; i < Items.Count; i++)
        {
            text.Append(i == 0 ? "" : ",");
            Items[i].WriteJson(text);
        }

        text.Append(']');
    }

    public override IEnumerable<FuzzTree> All() => Items.SelectMany(i => i.All()).Prepend(this);
}

/// <summary>A number, a text in quotes, a word, or something that JSON doesn't have.</summary>
internal sealed class FuzzAtom(string json) : FuzzTree
{
    public string Json { get; set; } = json;

    public override FuzzTree Copy() => new FuzzAtom(Json);

    public override void WriteJson(StringBuilder text) => text.Append(Json);

    public override IEnumerable<FuzzTree> All() => [this];
}
