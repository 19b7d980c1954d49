using System.CommandLine;
using System.Globalization;

namespace Incubation.Service.CommandLine;

/// <summary>Options that serve and demo share. Each is a setting by another name and wins over file and environment.</summary>
internal sealed class ServiceOptions
{
    public const string DataKey = "Incubation:DataDirectory";

    private readonly Option<string?> _data = new("--data") { Description = "Data directory (setting Incubation:DataDirectory)." };
    private readonly Option<int?> _http = new("--http-port") { Description = "Port of the dashboards; 0 takes a free one (setting Incubation:Http:Port)." };
    private readonly Option<int?> _mqtt = new("--mqtt-port") { Description = "Port of the broker; 0 takes a free one (setting Incubation:Mqtt:Port)." };

    public void AddTo(Command verb)
    {
        verb.Options.Add(_data);
        verb.Options.Add(_http);
        verb.Options.Add(_mqtt);
    }

    public Dictionary<string, string?> Read(ParseResult parsed)
    {
        var settings = new Dictionary<string, string?>();
        Add(settings, DataKey, parsed.GetValue(_data));
        Add(settings, "Incubation:Http:Port", parsed.GetValue(_http)?.ToString(CultureInfo.InvariantCulture));
        Add(settings, "Incubation:Mqtt:Port", parsed.GetValue(_mqtt)?.ToString(CultureInfo.InvariantCulture));
        return settings;
    }

    private static void Add(Dictionary<string, string?> settings, string key, string? value)
    {
        if (value is not null)
        {
            settings[key] = value;
        }
    }
}
