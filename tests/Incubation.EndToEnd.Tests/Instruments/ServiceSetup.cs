namespace Incubation.EndToEnd.Tests.Instruments;

/// <summary>How a service is started.</summary>
internal sealed class ServiceSetup
{
    /// <summary>Data directory; a new temporary one by default.</summary>
    public string Data { get; init; } = Directory.CreateTempSubdirectory("incubation-e2e-").FullName;

    /// <summary>The built program.</summary>
    public string Program { get; init; } = House.Program;

    /// <summary>Verb and its options, such as <c>serve</c> or <c>demo</c>.</summary>
    public string Verb { get; init; } = "serve";

    /// <summary>Environment variables, such as <c>Incubation__Mail__Host</c>.</summary>
    /// <remarks>Small spare files unless told: each test leaves a data directory behind.</remarks>
    public Dictionary<string, string> Settings { get; } = new()
    {
        ["Incubation__Disk__SpoolMegabytes"] = "2",
        ["Incubation__Disk__ReserveMegabytes"] = "1",
    };

    /// <summary>Port of the pages, or null for a free one.</summary>
    public int? HttpPort { get; init; }

    /// <summary>How long the start may take on a busy machine before it counts as failed.</summary>
    public TimeSpan StartLimit { get; init; } = TimeSpan.FromSeconds(60);
}
