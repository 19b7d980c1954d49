using System.ComponentModel.DataAnnotations;
using Incubation.Core;
using Incubation.Core.Readings;
using Microsoft.Extensions.Options;

namespace Incubation.Service.Hosting;

/// <summary>Everything under <c>Incubation</c> in appsettings.json and the environment (<c>Incubation__…</c>).</summary>
internal sealed class IncubationOptions
{
    public const string Section = "Incubation";

    /// <summary>Folder that holds everything the service must not lose.</summary>
    /// <value>A path; default <c>data</c> beside the working folder.</value>
    [Required, MinLength(1)]
    public string DataDirectory { get; set; } = "data";

    [ValidateObjectMembers] public FacilityOptions Facility { get; set; } = new();
    [ValidateObjectMembers] public HttpOptions Http { get; set; } = new();
    [ValidateObjectMembers] public MqttOptions Mqtt { get; set; } = new();
    [ValidateObjectMembers] public ReadingsOptions Readings { get; set; } = new();
    [ValidateObjectMembers] public MailOptions Mail { get; set; } = new();
    [ValidateObjectMembers] public DiskOptions Disk { get; set; } = new();
    [ValidateObjectMembers] public InfluxOptions Influx { get; set; } = new();
    [ValidateObjectMembers] public TestOptions Test { get; set; } = new();
}

/// <summary>Obeyed only with <c>serve --allow-test-settings</c>: a test must be able to show a loss, and nobody may cause one by chance.</summary>
internal sealed class TestOptions
{
    /// <value><c>full</c> (default); <c>off</c> loses acknowledged readings in a power cut.</value>
    [RegularExpression("full|off")] public string Synchronous { get; set; } = "full";

    /// <summary>How long the writer waits for another program that holds the readings file; short, to see the spool at work.</summary>
    /// <value>Milliseconds, 1 to 60000; default 2000.</value>
    [Range(1, 60_000)] public int LockPatienceMilliseconds { get; set; } = 2_000;

    /// <summary>Longest pause before the readings file is tried again.</summary>
    /// <value>Milliseconds, 1 to 600000; default 15000.</value>
    [Range(1, 600_000)] public int StoreRetryMilliseconds { get; set; } = Limits.StoreRetrySeconds * 1_000;

    /// <value>Seconds between two of the service's own messages through an external broker; default 15. Tests can't wait that long.</value>
    [Range(1, 15)] public int HeartbeatSeconds { get; set; } = 15;

    /// <summary>How long after its end a day is sealed, and how often that is looked for at the least; short, to see sealing at work.</summary>
    /// <value>Milliseconds, 1 to 43200000; default 43200000, which is twelve hours.</value>
    [Range(1, 43_200_000)] public int SealAfterMilliseconds { get; set; } = 43_200_000;
}

/// <summary>What is kept ready for a disk that is full or fails. Both files are made at the start, with all their room taken.</summary>
internal sealed class DiskOptions
{
    /// <summary>Size of the spool file.</summary>
    /// <value>Mebibytes, 1 to 4096; default 64, more than a week of fifty probes.</value>
    [Range(1, Limits.SpareMegabytes)] public int SpoolMegabytes { get; set; } = Limits.SpoolMegabytes;

    /// <summary>Size of the reserve that is given up for alarms and calls when the disk is nearly full.</summary>
    /// <value>Mebibytes, 1 to 4096; default 32.</value>
    [Range(1, Limits.SpareMegabytes)] public int ReserveMegabytes { get; set; } = Limits.ReserveMegabytes;
}

internal sealed class FacilityOptions
{
    /// <summary>What the place is called.</summary>
    [Required, StringLength(80, MinimumLength = 1)] public string Name { get; set; } = "The egg room";

    /// <summary>IANA time zone of the place, such as <c>Europe/Lisbon</c>.</summary>
    [Required] public string Zone { get; set; } = "Etc/UTC";
}

internal sealed class HttpOptions
{
    /// <value>0 to 65535; 0 takes a free port. Default 5080.</value>
    [Range(0, 65535)] public int Port { get; set; } = 5080;

    /// <summary><c>any</c> listens beyond this machine once an owner is claimed; <c>loopback</c> never does.</summary>
    [RegularExpression("any|loopback")] public string Listen { get; set; } = "any";

    /// <summary>Address under which phones reach the service; used in the links of messages.</summary>
    [Url] public string? PublicAddress { get; set; }
}

internal sealed class MqttOptions
{
    /// <value>0 to 65535; 0 takes a free port. Default 1883.</value>
    [Range(0, 65535)] public int Port { get; set; } = 1883;

    /// <summary>With <see cref="Password"/>: the broker listens beyond this machine, and asks everyone there for them.</summary>
    public string? User { get; set; }
    public string? Password { get; set; }

    /// <summary>Where readings are published.</summary>
    /// <value>
    /// Parts in braces: incubator, probe, quantity, any (not used), with fixed text around them if need be. Probe is required; without
    /// quantity the payloads must name what they measured.
    /// </value>
    [Required] public string Topic { get; set; } = "incubation/{incubator}/{probe}/{quantity}";

    /// <summary>A broker of your own in the place of the one that is built in.</summary>
    [ValidateObjectMembers] public ExternalBrokerOptions External { get; set; } = new();

    /// <summary>Names of the fields of a JSON payload.</summary>
    [ValidateObjectMembers] public PayloadFieldOptions Fields { get; set; } = new();
}

internal sealed class PayloadFieldOptions
{
    [Required] public string Value { get; set; } = "value";
    [Required] public string Unit { get; set; } = "unit";
    [Required] public string At { get; set; } = "at";

    /// <summary>Fields of further quantities in the same message; names with dots are paths into objects.</summary>
    /// <value>Name of the field to what it holds, such as <c>"tempF": "temperature degF"</c>; empty text takes a known quantity's own name away.</value>
    public Dictionary<string, string> Quantities { get; set; } = [];

    /// <summary>The names as the payload reader takes them.</summary>
    /// <exception cref="FormatException">They can't be used together; the message says why.</exception>
    internal PayloadFields Names() => new(Value, Unit, At, Quantities);

    /// <summary>Why the names can't be used, or null.</summary>
    internal string? Problem()
    {
        try
        {
            Names();
            return null;
        }
        catch (FormatException error)
        {
            return error.Message;
        }
    }
}

internal sealed class MailOptions
{
    /// <summary>SMTP server; empty sends no mail.</summary>
    public string? Host { get; set; }
    [Range(1, 65535)] public int Port { get; set; } = 587;

    /// <value><c>starttls</c> (default), <c>tls</c> or <c>none</c> (only to this machine).</value>
    [RegularExpression("starttls|tls|none")] public string Security { get; set; } = "starttls";
    public string? User { get; set; }
    public string? Password { get; set; }
    [EmailAddress] public string? From { get; set; }

    /// <summary>Whether the server's certificate is checked for revocation, which needs the internet.</summary>
    public bool CheckRevocation { get; set; } = true;
}

internal sealed class ReadingsOptions
{
    /// <summary>Days that readings are kept, by the name of their quantity; one that isn't named is kept for good, and so is every clutch's time.</summary>
    /// <value>1 to 36,500 each, such as <c>Incubation:Readings:KeepDays:signal</c> = 30.</value>
    public Dictionary<string, int> KeepDays { get; set; } = [];
}
