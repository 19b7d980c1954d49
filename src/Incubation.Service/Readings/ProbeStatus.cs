using System.Buffers;
using Incubation.Service.Probes;

namespace Incubation.Service.Readings;

/// <summary>Keeps what a probe says of itself on its status topic. Offline calls nobody: silence does that, and needs no last will.</summary>
internal sealed class ProbeStatus(ProbeRegister probes)
{
    public const string Allowed = "A status is the text online or offline.";

    private const int Longest = 16;

    /// <summary>Takes the status; false when it is none. One of a probe never heard changes nothing.</summary>
    public bool Heard(string probe, in ReadOnlySequence<byte> payload)
    {
        if (payload.IsEmpty)
        {
            return true;
        }

        if (payload.Length > Longest)
        {
            return false;
        }

        Span<byte> text = stackalloc byte[Longest];
        payload.CopyTo(text);
        text = text[..(int)payload.Length];
        bool online = text.SequenceEqual("online"u8);
        if (!online && !text.SequenceEqual("offline"u8))
        {
            return false;
        }

        if (probes.Find(probe) is { } known)
        {
            known.Online = online;
        }

        return true;
    }
}
