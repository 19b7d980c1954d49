using Microsoft.AspNetCore.Server.Kestrel;
using MQTTnet.AspNetCore;
using Serilog;
using Serilog.Events;

namespace Incubation.Service.Hosting;

/// <summary>Builds the one process: settings, logging, Kestrel, and the rooms that Program lists.</summary>
internal static class ServiceHost
{
    /// <summary>How long a stop may take; the compose file allows a little more before it kills.</summary>
    public static readonly TimeSpan StopLimit = TimeSpan.FromSeconds(30);

    /// <param name="mode">What the verb allows.</param>
    /// <param name="settings">Settings that win over the file and the environment: options of the command line.</param>
    /// <param name="also">Registrations that come last and win; tests put their clock and their doubles here.</param>
    /// <param name="webRoot">Folder of the built web app; wwwroot beside the program unless given.</param>
    /// <exception cref="StartException">A setting is wrong; the message names it.</exception>
    public static WebApplication Build(
        RunMode mode, IReadOnlyDictionary<string, string?> settings, Action<IServiceCollection>? also = null, string? webRoot = null)
    {
        WebApplicationBuilder builder = WebApplication.CreateSlimBuilder(new WebApplicationOptions
        {
            ApplicationName = typeof(ServiceHost).Assembly.GetName().Name,
            // Files that ship with the program lie beside it, wherever it is started from.
            ContentRootPath = AppContext.BaseDirectory,
            WebRootPath = webRoot ?? Path.Combine(AppContext.BaseDirectory, "wwwroot"),
        });
        builder.Configuration.AddInMemoryCollection(settings);
        IncubationOptions options = SettingsReader.Read(builder.Configuration, mode);
        builder.Services.AddOptions<IncubationOptions>().BindConfiguration(
            IncubationOptions.Section, binder => binder.ErrorOnUnknownConfiguration = true);

        AddLogging(builder, options);
        AddKestrel(builder);
        builder.Services.Configure<HostOptions>(host => host.ShutdownTimeout = StopLimit);
        Rooms.Add(builder.Services, mode);
        also?.Invoke(builder.Services);

        WebApplication app = builder.Build();
        Rooms.Map(app);
        return app;
    }

    private static void AddKestrel(WebApplicationBuilder builder)
    {
        var source = new ListenSource();
        IConfigurationRoot endpoints = new ConfigurationBuilder().Add(source).Build();
        builder.Services.AddSingleton(source);
        builder.WebHost.ConfigureKestrel(kestrel =>
        {
            KestrelConfigurationLoader loader = kestrel.Configure(endpoints, reloadOnChange: true);
            loader.Endpoint(ListenPlan.Mqtt, endpoint => endpoint.ListenOptions.UseMqtt());
            for (int i = 0; i < ListenPlan.MostAddresses; i++)
            {
                loader.Endpoint(ListenPlan.Beyond(ListenPlan.Mqtt, i), endpoint => endpoint.ListenOptions.UseMqtt());
            }
        });
    }

    private static void AddLogging(WebApplicationBuilder builder, IncubationOptions options)
        => builder.Services.AddSerilog(
            (_, log) => log
                .MinimumLevel.Information()
                // The framework's own lines say nothing to a keeper; the rooms log changes of state themselves.
                .MinimumLevel.Override("Microsoft", LogEventLevel.Warning)
                .MinimumLevel.Override("Microsoft.AspNetCore.DataProtection", LogEventLevel.Error)
                .WriteTo.Console(formatProvider: System.Globalization.CultureInfo.InvariantCulture)
                .WriteTo.File(
                    Path.Combine(Path.GetFullPath(options.DataDirectory), "logs", "incubation-.log"),
                    formatProvider: System.Globalization.CultureInfo.InvariantCulture,
                    // Small files, few of them: the default of a gigabyte a day would fill a memory card.
                    rollingInterval: RollingInterval.Day, fileSizeLimitBytes: 10 * 1024 * 1024, rollOnFileSizeLimit: true, retainedFileCountLimit: 5),
            preserveStaticLogger: true);
}
