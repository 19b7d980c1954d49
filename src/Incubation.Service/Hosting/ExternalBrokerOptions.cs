using System.ComponentModel.DataAnnotations;

namespace Incubation.Service.Hosting;

/// <summary>A broker of your own. With a host set, readings come from it, and the built-in broker does not listen.</summary>
internal sealed class ExternalBrokerOptions
{
    /// <summary>Name or address of the broker; empty uses the built-in one.</summary>
    public string? Host { get; set; }

    /// <value>1 to 65535; 8883 with TLS and 1883 without unless given.</value>
    [Range(1, 65535)] public int? Port { get; set; }

    /// <summary>Whether the connection is encrypted and the broker's certificate checked.</summary>
    public bool Tls { get; set; }

    /// <summary>File (PEM) of the authority that signed the broker's certificate; without it the system's trust decides.</summary>
    public string? CertificateAuthority { get; set; }

    /// <summary>Whether a certificate that the system trusts is checked for revocation, which needs the internet.</summary>
    public bool CheckRevocation { get; set; } = true;

    public string? User { get; set; }
    public string? Password { get; set; }

    /// <summary>File of the certificate with which the service shows who it is: PEM, or PKCS #12 (.pfx, .p12).</summary>
    public string? ClientCertificate { get; set; }

    /// <summary>File (PEM) of its private key, when that is not in the same file.</summary>
    public string? ClientKey { get; set; }

    /// <summary>Password of the key or of the PKCS #12 file.</summary>
    public string? ClientCertificatePassword { get; set; }

    /// <summary>Name of the session at the broker; one made for this data directory unless given.</summary>
    public string? ClientId { get; set; }

    /// <value>1 to 720 hours for which the broker is asked to keep what was missed; default 168, a week.</value>
    [Range(1, 720)] public int KeepSessionHours { get; set; } = 168;

    internal bool IsSet => !string.IsNullOrEmpty(Host);

    internal int PortInUse => Port ?? (Tls ? 8883 : 1883);
}
