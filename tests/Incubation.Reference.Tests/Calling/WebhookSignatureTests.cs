using System.Security.Cryptography;
using System.Text;
using Incubation.Reference.Tests.Sources;
using Incubation.Service.Calling;
using Xunit;

namespace Incubation.Reference.Tests.Calling;

public sealed class WebhookSignatureTests
{
    private const string Specification = "Standard Webhooks specification";

    [Fact]
    [Source("Standard Webhooks project", 2023, Specification, "reference vector of its libraries", Remark = "year from memory")]
    public void The_signature_is_that_of_the_reference_vector()
        => Assert.Equal("v1,g0hM9SsE+OTPJTGt/tmIKtSyZlE3uFJELVlNIOLJ1OE=", Sign(
            "whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw", "msg_p5jXN8AQM9LWM0D4loKWxJek", 1614265330, "{\"test\": 2432232314}"));

    [Theory]
    [InlineData("whsec_w8D8OBSQ6b3zv3w/U1IXC/xMCXTWz/qp", "msg_0000000000000000000000001", 1767225600,
        "{\"type\":\"alarm.raised\",\"data\":{\"probe\":\"Kiste 3\",\"t\":33.4,\"unit\":\"\u00b0C\"}}",
        "v1,01B8xc5pwAxngM8WO6uZ5qfckR8OBaDLbJQufAdw9bM=")]
    [InlineData("whsec_cle4l6qBwgyIMCeyNE5M29rIaO9YtdkEiiw+QDaoJfY=", "msg_0000000000000000000000003", 1798761599,
        "{\"a\":\"1.2.3\",\r\n\"b\":\"x\"}\n", "v1,C2ltzm/GaAxW5/q4TMFl2ptklq0yU7ECZbE5e4/z52Q=")]
    [Source("Standard Webhooks project", 2023, Specification, "signature scheme, version 1",
        Remark = "computed with the reference library 1.1.1 and a second implementation, identical; year from memory")]
    public void The_signature_covers_the_bytes_of_the_body_as_they_are(string secret, string id, long seconds, string body, string signature)
        => Assert.Equal(signature, Sign(secret, id, seconds, body));

    [Theory]
    [InlineData("0b0b0b0b0b0b0b0b0b0b0b0b0b0b0b0b0b0b0b0b", "4869205468657265", "b0344c61d8db38535ca8afceaf0bf12b881dc200c9833da726e9376c2e32cff7")]
    [Source("Nystrom, M.", 2005, "RFC 4231: Identifiers and Test Vectors for HMAC-SHA-224, -256, -384 and -512", "section 4, case 1")]
    public void The_code_underneath_is_HMAC_with_SHA_256(string key, string data, string code)
        => Assert.Equal(code, Convert.ToHexStringLower(HMACSHA256.HashData(Convert.FromHexString(key), Convert.FromHexString(data))));

    private static string Sign(string secret, string id, long seconds, string body)
        => WebhookSignature.Sign(WebhookSignature.Key(secret)!, id, seconds, Encoding.UTF8.GetBytes(body));
}
