using System.Buffers;
using Incubation.Core.Readings;
using Incubation.Service.Probes;

namespace Incubation.Service.Readings;

/// <summary>Keeps what a probe says of itself on its status topic. Offline calls nobody: silence does that, and needs no last will.</summary>
internal sealed class ProbeStatus(ProbeRegister probes)
{
    public const string Allowed = "A status is the text online or offline, or a JSON object such as {\"state\":\"online\"}.";

    /// <summary>Takes the status; false when it is none. One of a probe never heard changes nothing.</summary>
    public bool Heard(string probe, in ReadOnlySequence<byte> payload)
    {
        if (payload.IsEmpty)
        {
            return true;
        }

        if (payload.Length > Availability.LongestBytes)
        {
            return false;
        }

        Span<byte> text = stackalloc byte[Availability.LongestBytes];
        payload.CopyTo(text);
        if (!Availability.TryRead(text[..(int)payload.Length], out bool online))
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
