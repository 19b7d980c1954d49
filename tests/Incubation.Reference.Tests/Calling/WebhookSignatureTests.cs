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
    [InlineData(1, "0b0b0b0b0b0b0b0b0b0b0b0b0b0b0b0b0b0b0b0b", "4869205468657265", "b0344c61d8db38535ca8afceaf0bf12b881dc200c9833da726e9376c2e32cff7")]
    [InlineData(2, "4a656665", "7768617420646f2079612077616e7420666f72206e6f7468696e673f", "5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843")]
    [InlineData(3, "aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa", "dddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddd",
        "773ea91e36800e46854db8ebd09181a72959098b3ef8c122d9635514ced565fe")]
    [InlineData(4, "0102030405060708090a0b0c0d0e0f10111213141516171819", "cdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcdcd",
        "82558a389a443c0ea4cc819899f2083a85f0faa3e578f8077a2e3ff46729665b")]
    [InlineData(6, "aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa" + "aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa",
        "54657374205573696e67204c6172676572205468616e20426c6f636b2d53697a65204b6579202d2048617368204b6579204669727374",
        "60e431591ee0b67f0d8a26aacbf5b77f8e0bc6213728c5140546040f0ee37f54")]
    [InlineData(7, "aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa" + "aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa",
        "5468697320697320612074657374207573696e672061206c6172676572207468616e20626c6f636b2d73697a65206b657920616e642061206c6172676572207468616e20626c6f636b2d73"
        + "697a6520646174612e20546865206b6579206e6565647320746f20626520686173686564206265666f7265206265696e6720757365642062792074686520484d414320616c676f726974686d2e",
        "9b09ffa71b942fcb27635fbcd5b0e944bfdc63644f0713938a7f51535c3a35e2")]
    [Source("Nystrom, M.", 2005, "RFC 4231: Identifiers and Test Vectors for HMAC-SHA-224, -256, -384 and -512", "section 4, cases 1 to 4, 6 and 7",
        Remark = "retyped from memory and reproduced by a second implementation; case 5 truncates its code, which the scheme doesn't")]
    public void The_code_underneath_is_HMAC_with_SHA_256(int number, string key, string data, string code)
    {
        byte[] bytes = Convert.FromHexString(data);
        using var hmac = IncrementalHash.CreateHMAC(HashAlgorithmName.SHA256, Convert.FromHexString(key));
        // In pieces, as the signature feeds it.
        hmac.AppendData(bytes.AsSpan(0, number));
        hmac.AppendData(bytes.AsSpan(number));
        Assert.Equal(code, Convert.ToHexStringLower(hmac.GetHashAndReset()));
    }

    [Theory]
    [InlineData(0, "", true)]
    [InlineData(299, "", true)]
    [InlineData(301, "", false)]
    [InlineData(0, "v1,AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA= ", true)]
    [InlineData(0, "v1a,AAAA ", true)]
    [Source("Standard Webhooks project", 2023, Specification, "verifying: timestamp tolerance, list of signatures",
        Remark = "the tolerance of five minutes is that of the reference libraries; year from memory")]
    public void A_receiver_that_verifies_by_the_rules_takes_our_message_while_it_is_fresh(int secondsLate, string others, bool taken)
    {
        const string secret = "whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw";
        const string body = "{\"test\": 2432232314}";
        string header = others + Sign(secret, "msg_1", 1614265330, body);
        Assert.Equal(taken, Verify(secret, "msg_1", 1614265330, body, header, 1614265330 + secondsLate));
        Assert.False(Verify(secret, "msg_2", 1614265330, body, header, 1614265330), "another id");
        Assert.False(Verify(secret, "msg_1", 1614265331, body, header, 1614265331), "another time");
        Assert.False(Verify(secret, "msg_1", 1614265330, body + " ", header, 1614265330), "another body");
    }

    // The receiver's side, written from the rules and not from our sender.
    private static bool Verify(string secret, string id, long sentAt, string body, string header, long now)
    {
        if (Math.Abs(now - sentAt) > 300)
        {
            return false;
        }

        byte[] code = HMACSHA256.HashData(Convert.FromBase64String(secret["whsec_".Length..]), Encoding.UTF8.GetBytes($"{id}.{sentAt}.{body}"));
        return header.Split(' ').Select(s => s.Split(',', 2)).Any(s => s[0] == "v1"
            && CryptographicOperations.FixedTimeEquals(Convert.FromBase64String(s[1]), code));
    }

    private static string Sign(string secret, string id, long seconds, string body)
        => WebhookSignature.Sign(WebhookSignature.Key(secret)!, id, seconds, Encoding.UTF8.GetBytes(body));
}
