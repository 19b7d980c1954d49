using System.Text;
using System.Text.Json;

namespace Incubation.Core.Readings;

/// <summary>What a field of a JSON payload holds.</summary>
internal enum FieldRole
{
    /// <summary>An object with fields in it.</summary>
    Object,
    Value,
    Unit,
    At,
    Quantity,
}

/// <summary>One field of a JSON payload: a name, and what it holds.</summary>
internal sealed class PayloadField(string name, FieldRole role, Quantity quantity = default, string unit = "")
{
    private readonly byte[] _name = Encoding.UTF8.GetBytes(name);
    private PayloadField[] _children = [];

    public FieldRole Role { get; } = role;

    /// <summary>Only of <see cref="FieldRole.Quantity"/>.</summary>
    public Quantity Quantity { get; } = quantity;

    /// <summary>The unit the field's numbers are in; empty for the held one.</summary>
    public byte[] Unit { get; } = Encoding.UTF8.GetBytes(unit);

    /// <summary>The field that the reader stands on, or null when it is none of these.</summary>
    public PayloadField? Find(scoped ref Utf8JsonReader json)
    {
        foreach (PayloadField child in _children)
        {
            if (json.ValueIsEscaped ? json.ValueTextEquals(child._name) : json.ValueSpan.SequenceEqual(child._name))
            {
                return child;
            }
        }

        return null;
    }

    /// <summary>Puts a field at a path of names split by dots; false when something stands there already.</summary>
    public bool TryPut(string path, FieldRole role, Quantity quantity = default, string unit = "")
    {
        int dot = path.IndexOf('.', StringComparison.Ordinal);
        string first = dot < 0 ? path : path[..dot];
        byte[] bytes = Encoding.UTF8.GetBytes(first);
        PayloadField? there = Array.Find(_children, c => c._name.AsSpan().SequenceEqual(bytes));
        if (dot < 0)
        {
            if (there is null)
            {
                _children = [.. _children, new PayloadField(first, role, quantity, unit)];
            }

            return there is null;
        }

        if (there is null)
        {
            _children = [.. _children, there = new PayloadField(first, FieldRole.Object)];
        }

        return there.Role == FieldRole.Object && there.TryPut(path[(dot + 1)..], role, quantity, unit);
    }
}
