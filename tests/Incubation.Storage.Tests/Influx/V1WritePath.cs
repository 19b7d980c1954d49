using System.Web;

namespace Incubation.Storage.Tests.Influx;

/// <summary>
/// Debian's influxd is 1.6.7, which takes the same line protocol and answers the same statuses at <c>/write?db=</c> that later ones take at
/// <c>/api/v2/write?bucket=</c>. Only the address is rewritten; it is not part of the product, which speaks to 1.8 and later.
/// </summary>
internal sealed class V1WritePath : DelegatingHandler
{
    public V1WritePath() : base(new SocketsHttpHandler()) { }

    /// <summary>Writes that went through.</summary>
    public int Writes { get; private set; }

    protected override Task<HttpResponseMessage> SendAsync(HttpRequestMessage request, CancellationToken cancellationToken)
    {
        if (request.RequestUri is { AbsolutePath: "/api/v2/write" } address)
        {
            Writes++;
            System.Collections.Specialized.NameValueCollection query = HttpUtility.ParseQueryString(address.Query);
            request.RequestUri = new Uri(address, $"/write?db={Uri.EscapeDataString(query["bucket"]!)}&precision={query["precision"]}");
        }

        return base.SendAsync(request, cancellationToken);
    }
}
