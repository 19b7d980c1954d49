using System.Security.Cryptography;
using Microsoft.AspNetCore.ResponseCompression;
using Microsoft.Net.Http.Headers;

namespace Incubation.Service.Readings;

/// <summary>
/// Strong tags of answers. The tag is made of the answer itself, so it changes with whatever changes the answer: a late reading, a calibration,
/// another band. A compressed answer is another sequence of bytes and bears another tag (RFC 9110, 8.8.3.3).
/// </summary>
internal sealed class HistoryTags(IResponseCompressionProvider compression)
{
    public EntityTagHeaderValue Of(HttpContext http, byte[] body)
    {
        string way = compression.CheckRequestAcceptsCompression(http) ? compression.GetCompressionProvider(http)?.EncodingName ?? "" : "";
        string hash = Convert.ToHexStringLower(SHA256.HashData(body).AsSpan(0, 12));
        return new EntityTagHeaderValue(way.Length == 0 ? $"\"{hash}\"" : $"\"{hash}-{way}\"");
    }
}
