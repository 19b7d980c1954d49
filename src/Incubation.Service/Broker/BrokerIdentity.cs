using System.Security.Cryptography;
using Incubation.Service.Hosting;
using Microsoft.Extensions.Options;

namespace Incubation.Service.Broker;

/// <summary>
/// The name under which the service signs in to an external broker. It must be the same at every start, or the broker keeps what was
/// missed for nobody; and another for every installation, or two push each other out.
/// </summary>
internal sealed class BrokerIdentity(DataPaths paths, IOptions<IncubationOptions> options)
{
    private string? _made;

    /// <exception cref="StartException">The file of the name can't be read or written.</exception>
    public string ClientId => options.Value.Mqtt.External.ClientId is { Length: > 0 } given ? given : _made ??= ReadOrMake();

    private string ReadOrMake()
    {
        try
        {
            if (File.Exists(paths.BrokerClientId) && File.ReadAllText(paths.BrokerClientId).Trim() is { Length: > 0 and <= 64 } kept)
            {
                return kept;
            }

            string made = $"incubation-{Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(6))}";
            File.WriteAllText(paths.BrokerClientId, made);
            return made;
        }
        catch (Exception error) when (error is IOException or UnauthorizedAccessException)
        {
            throw new StartException(
                $"The name for the external broker can't be kept in {paths.BrokerClientId} ({error.Message.TrimEnd('.')}). " +
                "Make the data directory writable, or set Incubation:Mqtt:External:ClientId.", error);
        }
    }
}
