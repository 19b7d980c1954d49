namespace Incubation.Service.Hosting;

/// <summary>Reads and checks the settings before anything is built on them.</summary>
internal static class SettingsReader
{
    public static IncubationOptions Read(IConfiguration configuration, RunMode mode)
    {
        var options = new IncubationOptions();
        configuration.GetSection(IncubationOptions.Section).Bind(options, binder => binder.ErrorOnUnknownConfiguration = true);
        return options;
    }
}
