using Microsoft.Extensions.Options;

namespace Incubation.Service.Hosting;

/// <summary>Reads and checks the settings before anything is built on them, so that a wrong one is a line of words and not a stack trace.</summary>
internal static class SettingsReader
{
    /// <exception cref="StartException">Names every wrong setting: key, value, what is allowed.</exception>
    public static IncubationOptions Read(IConfiguration configuration, RunMode mode)
    {
        IConfigurationSection section = configuration.GetSection(IncubationOptions.Section);
        List<string> wrong = [.. SettingsKeys.Check(section, typeof(IncubationOptions))];
        if (wrong.Count > 0)
        {
            throw Wrong(wrong);
        }

        var options = new IncubationOptions();
        section.Bind(options, binder => binder.ErrorOnUnknownConfiguration = true);
        wrong.AddRange(SettingsRules.Check(options, mode));
        return wrong.Count == 0 ? options : throw Wrong(wrong);
    }

    private static StartException Wrong(List<string> wrong) => new(string.Join(Environment.NewLine, wrong));
}

/// <summary>The same rules for whoever builds options in another way (tests, a reload).</summary>
internal sealed class SettingsValidator(RunMode mode) : IValidateOptions<IncubationOptions>
{
    public ValidateOptionsResult Validate(string? name, IncubationOptions options)
    {
        List<string> wrong = [.. SettingsRules.Check(options, mode)];
        return wrong.Count == 0 ? ValidateOptionsResult.Success : ValidateOptionsResult.Fail(wrong);
    }
}
