namespace Incubation.Service.Hosting;

/// <summary>Kestrel's endpoints in memory: the service replaces them while it runs, and Kestrel follows.</summary>
internal sealed class ListenSource : ConfigurationProvider, IConfigurationSource
{
    public IConfigurationProvider Build(IConfigurationBuilder builder) => this;

    public void Replace(Dictionary<string, string?> endpoints)
    {
        Data = new Dictionary<string, string?>(endpoints, StringComparer.OrdinalIgnoreCase);
        OnReload();
    }
}
