namespace Incubation.Service.Demo;

/// <summary>Ids from a seed, so that the same demo has the same ones.</summary>
internal sealed class DemoIds(long seed)
{
    private readonly Random _chance = new(unchecked((int)(seed ^ (seed >> 32))));

    public Guid Next()
    {
        Span<byte> bytes = stackalloc byte[16];
        _chance.NextBytes(bytes);
        return new Guid(bytes);
    }
}
