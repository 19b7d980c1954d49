using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;

namespace Incubation.EndToEnd.Tests.Broker;

/// <summary>A certificate authority for one test: writes what it issues as PEM files.</summary>
internal sealed class TestAuthority : IDisposable
{
    private readonly ECDsa _key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
    private readonly X509Certificate2 _certificate;
    private readonly DateTimeOffset _from = TimeProvider.System.GetUtcNow() - TimeSpan.FromHours(1);
    private byte _serial;

    public TestAuthority(string name)
    {
        CertificateRequest request = new($"CN={name}", _key, HashAlgorithmName.SHA256);
        request.CertificateExtensions.Add(new X509BasicConstraintsExtension(true, false, 0, true));
        request.CertificateExtensions.Add(new X509KeyUsageExtension(X509KeyUsageFlags.KeyCertSign | X509KeyUsageFlags.CrlSign, true));
        _certificate = request.CreateSelfSigned(_from, _from + TimeSpan.FromDays(2));
    }

    public void WriteTo(string file) => File.WriteAllText(file, _certificate.ExportCertificatePem());

    /// <summary>A certificate for this machine, and its key, each in a file.</summary>
    public void IssueServer(string certificateFile, string keyFile)
    {
        SubjectAlternativeNameBuilder names = new();
        names.AddDnsName("localhost");
        names.AddIpAddress(IPAddress.Loopback);
        Issue("CN=localhost", "1.3.6.1.5.5.7.3.1", names, certificateFile, keyFile);
    }

    /// <summary>A certificate for a client, and its key, in one file.</summary>
    public void IssueClient(string name, string file) => Issue($"CN={name}", "1.3.6.1.5.5.7.3.2", null, file, file);

    public void Dispose()
    {
        _certificate.Dispose();
        _key.Dispose();
    }

    private void Issue(string subject, string usage, SubjectAlternativeNameBuilder? names, string certificateFile, string keyFile)
    {
        using ECDsa key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        CertificateRequest request = new(subject, key, HashAlgorithmName.SHA256);
        request.CertificateExtensions.Add(new X509BasicConstraintsExtension(false, false, 0, true));
        request.CertificateExtensions.Add(new X509EnhancedKeyUsageExtension([new Oid(usage)], true));
        if (names is not null)
        {
            request.CertificateExtensions.Add(names.Build());
        }

        using X509Certificate2 certificate = request.Create(_certificate, _from, _from + TimeSpan.FromDays(1), [1, ++_serial]);
        File.WriteAllText(certificateFile, certificate.ExportCertificatePem() + "\n");
        File.AppendAllText(keyFile == certificateFile ? certificateFile : Fresh(keyFile), key.ExportPkcs8PrivateKeyPem() + "\n");
    }

    private static string Fresh(string file)
    {
        File.Delete(file);
        return file;
    }
}
