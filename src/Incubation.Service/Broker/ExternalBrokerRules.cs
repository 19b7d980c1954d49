using Incubation.Service.Hosting;

namespace Incubation.Service.Broker;

/// <summary>What the settings of an external broker may be. One line for each that is broken.</summary>
internal static class ExternalBrokerRules
{
    private const string Group = "Incubation:Mqtt:External";
    private const int LongestClientId = 64;

    public static IEnumerable<string> Check(MqttOptions mqtt, RunMode mode)
    {
        string topic = mqtt.Topic ?? "";
        if (topic.StartsWith("$share/", StringComparison.Ordinal) || topic.StartsWith("$queue/", StringComparison.Ordinal))
        {
            yield return SettingsRules.Wrong("Incubation:Mqtt:Topic", topic,
                "a topic without $share: of a shared subscription this service would hear a part of each probe's readings, and part of them judges nothing");
        }

        ExternalBrokerOptions external = mqtt.External;
        foreach (string problem in external.IsSet ? CheckSet(external, mode) : CheckUnset(external))
        {
            yield return problem;
        }
    }

    private static IEnumerable<string> CheckUnset(ExternalBrokerOptions external)
    {
        string? first = external.Port is not null ? "Port" : external.Tls ? "Tls" : Given(external.User) ? "User"
            : Given(external.CertificateAuthority) ? "CertificateAuthority" : Given(external.ClientCertificate) ? "ClientCertificate"
            : Given(external.ClientId) ? "ClientId" : null;
        if (first is not null)
        {
            yield return SettingsRules.Wrong($"{Group}:Host", external.Host, $"the name of your broker, because {Group}:{first} is set");
        }
    }

    private static IEnumerable<string> CheckSet(ExternalBrokerOptions external, RunMode mode)
    {
        if (mode.Demo)
        {
            yield return SettingsRules.Wrong($"{Group}:Host", external.Host, "nothing in the demo, which speaks to its own broker only");
        }

        if (Uri.CheckHostName(external.Host) == UriHostNameType.Unknown)
        {
            yield return SettingsRules.Wrong($"{Group}:Host", external.Host, "a name or an address such as broker.example or 192.0.2.20, without mqtt:// and without the port");
        }

        string? needsTls = Given(external.CertificateAuthority) ? "CertificateAuthority" : Given(external.ClientCertificate) ? "ClientCertificate" : null;
        if (needsTls is not null && !external.Tls)
        {
            yield return SettingsRules.Wrong($"{Group}:Tls", external.Tls, $"true, because {Group}:{needsTls} is set");
        }

        if (Given(external.ClientKey) && !Given(external.ClientCertificate))
        {
            yield return SettingsRules.Wrong($"{Group}:ClientCertificate", external.ClientCertificate, $"a file, because {Group}:ClientKey is set");
        }

        if (Given(external.ClientId) && !IsClientId(external.ClientId!))
        {
            yield return SettingsRules.Wrong($"{Group}:ClientId", external.ClientId, $"1 to {LongestClientId} letters, digits, dots, hyphens and underscores");
        }
    }

    private static bool Given(string? text) => !string.IsNullOrEmpty(text);

    private static bool IsClientId(string id)
        => id.Length <= LongestClientId && id.All(c => char.IsAsciiLetterOrDigit(c) || c is '.' or '-' or '_');
}
