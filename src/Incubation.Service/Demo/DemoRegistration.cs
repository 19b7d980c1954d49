using Incubation.Service.Hosting;

namespace Incubation.Service.Demo;

/// <summary>The demo: an invented facility that lives. Added after all other rooms, so that its seeding follows what they open.</summary>
internal static class DemoRegistration
{
    /// <summary>Adds nothing unless the verb is <c>demo</c>.</summary>
    internal static IServiceCollection AddDemo(this IServiceCollection services, RunMode mode)
    {
        if (!mode.Demo || !mode.Furnished)
        {
            return services;
        }
        services.AddOptions<DemoSettings>().BindConfiguration(DemoSettings.Section).ValidateDataAnnotations().ValidateOnStart();
        // Made when the settings are first read, because their mail server is this one.
        services.AddSingleton(provider => DemoReceivers.StartAsync(provider.GetRequiredService<ILogger<DemoReceivers>>()).GetAwaiter().GetResult());
        services.AddOptions<IncubationOptions>().PostConfigure<DemoReceivers>(SendNothingOutside);
        services.AddSingleton<DemoStory>();
        services.AddSingleton<IStartupStep, SeedDemoRecords>();
        services.AddSingleton<IStartupStep, SeedDemoHistory>();
        services.AddHostedService<DemoWorker>();
        return services;
    }

    /// <summary>Whatever mail server the machine's settings name: the demo's invented alarms must wake nobody.</summary>
    private static void SendNothingOutside(IncubationOptions options, DemoReceivers receivers)
        => options.Mail = new MailOptions
        {
            Host = "127.0.0.1",
            Port = receivers.MailPort,
            Security = "none",
            From = "incubation@eggroom.invalid",
            CheckRevocation = false,
        };
}
