using System.Net.Security;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using Incubation.Service.Hosting;
using MQTTnet;

namespace Incubation.Service.Broker;

/// <summary>
/// Whom to believe, and with what to show who we are. The files are read at each connection, so that a renewed certificate needs no restart.
/// </summary>
internal sealed class BrokerTrust : IDisposable
{
    private readonly ExternalBrokerOptions _external;
    private readonly X509Certificate2Collection _authorities = [];
    private readonly X509Certificate2? _own;

    /// <exception cref="StartException">A file is missing or not what it should be; the words name its setting.</exception>
    public BrokerTrust(ExternalBrokerOptions external)
    {
        _external = external;
        if (!string.IsNullOrEmpty(external.CertificateAuthority))
        {
            _authorities = Load("CertificateAuthority", external.CertificateAuthority, Authorities);
        }

        if (!string.IsNullOrEmpty(external.ClientCertificate))
        {
            _own = Load("ClientCertificate", external.ClientCertificate, Own);
        }
    }

    /// <summary>Why the broker's certificate was not believed, or null.</summary>
    public string? Doubt { get; private set; }

    public void Apply(MqttClientTlsOptionsBuilder tls)
    {
        tls.UseTls()
            .WithRevocationMode(_external.CheckRevocation && _authorities.Count == 0 ? X509RevocationMode.Online : X509RevocationMode.NoCheck)
            .WithCertificateValidationHandler(e => IsBelieved(e.Certificate, e.Chain, e.SslPolicyErrors));
        if (_own is not null)
        {
            tls.WithClientCertificates([_own]);
        }
    }

    public void Dispose()
    {
        _own?.Dispose();
        foreach (X509Certificate2 authority in _authorities)
        {
            authority.Dispose();
        }
    }

    internal bool IsBelieved(X509Certificate? certificate, X509Chain? chain, SslPolicyErrors errors)
    {
        Doubt = errors.HasFlag(SslPolicyErrors.RemoteCertificateNotAvailable) || certificate is null ? "it shows no certificate"
            : errors.HasFlag(SslPolicyErrors.RemoteCertificateNameMismatch)
                ? $"its certificate is made out to another name than {_external.Host}; set Incubation:Mqtt:External:Host to the name in it"
            : _authorities.Count > 0 ? OwnChain(certificate, chain)
            : errors.HasFlag(SslPolicyErrors.RemoteCertificateChainErrors) ? SystemChain(chain)
            : null;
        return Doubt is null;
    }

    private string? OwnChain(X509Certificate certificate, X509Chain? sent)
    {
        using X509Chain chain = new();
        chain.ChainPolicy.TrustMode = X509ChainTrustMode.CustomRootTrust;
        chain.ChainPolicy.CustomTrustStore.AddRange(_authorities);
        chain.ChainPolicy.RevocationMode = X509RevocationMode.NoCheck;
        chain.ChainPolicy.ApplicationPolicy.Add(new Oid("1.3.6.1.5.5.7.3.1"));
        foreach (X509ChainElement between in sent?.ChainElements ?? Enumerable.Empty<X509ChainElement>())
        {
            chain.ChainPolicy.ExtraStore.Add(between.Certificate);
        }

        using X509Certificate2 broker = new(certificate);
        return chain.Build(broker) ? null
            : $"its certificate does not come from the authority in Incubation:Mqtt:External:CertificateAuthority ({Status(chain)})";
    }

    private static string SystemChain(X509Chain? chain)
        => chain is not null && chain.ChainStatus.All(s => s.Status is X509ChainStatusFlags.RevocationStatusUnknown or X509ChainStatusFlags.OfflineRevocation)
            ? "whether its certificate was revoked can't be found out from here; set Incubation:Mqtt:External:CheckRevocation to false if it never can"
            : $"this system does not trust its certificate ({(chain is null ? "no chain" : Status(chain))}); set Incubation:Mqtt:External:CertificateAuthority " +
              "to the file of the authority that signed it";

    private static string Status(X509Chain chain) => string.Join(", ", chain.ChainStatus.Select(s => s.Status).Distinct());

    private static T Load<T>(string setting, string path, Func<string, T> load)
    {
        try
        {
            return load(path);
        }
        catch (Exception error) when (error is IOException or UnauthorizedAccessException or CryptographicException or ArgumentException)
        {
            throw new StartException(
                $"Incubation:Mqtt:External:{setting} is \"{path}\", which can't be read ({error.Message.TrimEnd('.')}). " +
                "Allowed: a file in PEM form, or PKCS #12 for the service's own certificate.", error);
        }
    }

    private static X509Certificate2Collection Authorities(string path)
    {
        X509Certificate2Collection found = [];
        found.ImportFromPemFile(path);
        return found.Count > 0 ? found : throw new CryptographicException("there is no certificate in it");
    }

    private X509Certificate2 Own(string path)
    {
        string? password = string.IsNullOrEmpty(_external.ClientCertificatePassword) ? null : _external.ClientCertificatePassword;
        if (Path.GetExtension(path).ToLowerInvariant() is ".pfx" or ".p12")
        {
            return X509CertificateLoader.LoadPkcs12FromFile(path, password);
        }

        string? key = string.IsNullOrEmpty(_external.ClientKey) ? null : _external.ClientKey;
        return password is null ? X509Certificate2.CreateFromPemFile(path, key) : X509Certificate2.CreateFromEncryptedPemFile(path, password, key);
    }
}
