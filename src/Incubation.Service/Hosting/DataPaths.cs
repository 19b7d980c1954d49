using Microsoft.Extensions.Options;

namespace Incubation.Service.Hosting;

/// <summary>Where things lie inside the data directory.</summary>
internal sealed class DataPaths(IOptions<IncubationOptions> options)
{
    public string Root { get; } = Path.GetFullPath(options.Value.DataDirectory);

    public string Records => Path.Combine(Root, "records.db");

    public string Readings => Path.Combine(Root, "readings.db");

    /// <summary>Readings for which the database has no room.</summary>
    public string Spool => Path.Combine(Root, "readings.spool");

    /// <summary>Room on the disk that is given up when it is nearly full.</summary>
    public string Reserve => Path.Combine(Root, "disk.reserve");

    public string Keys => Path.Combine(Root, "keys");

    /// <summary>Files of readings that are being brought in, and reports of what was refused.</summary>
    public string Imports => Path.Combine(Root, "imports");

    public string Logs => Path.Combine(Root, "logs");

    public string Lock => Path.Combine(Root, "in-use.lock");

    /// <summary>Name under which this installation signs in to an external broker, made once.</summary>
    public string BrokerClientId => Path.Combine(Root, "broker-client-id");

    public string Clock => Path.Combine(Root, "clock");
}
