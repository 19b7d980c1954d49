using System.Collections;
using System.ComponentModel;
using System.Globalization;
using System.Reflection;

namespace Incubation.Service.Hosting;

/// <summary>
/// Checks what stands in the configuration against the shape of the options: a key that nobody reads is a misspelt one, and a value that
/// can't be converted is named with its key. A setting for an alarm that is silently ignored is worse than a service that doesn't start.
/// </summary>
internal static class SettingsKeys
{
    public static IEnumerable<string> Check(IConfigurationSection section, Type shape)
    {
        PropertyInfo[] properties = shape.GetProperties(BindingFlags.Public | BindingFlags.Instance);
        foreach (IConfigurationSection child in section.GetChildren())
        {
            PropertyInfo? property = properties.FirstOrDefault(p => p.Name.Equals(child.Key, StringComparison.OrdinalIgnoreCase));
            if (property is null)
            {
                yield return $"{child.Path} is no setting{Value(child)}. Allowed under {section.Path}: {string.Join(", ", properties.Select(p => p.Name))}.";
                continue;
            }

            if (typeof(IDictionary).IsAssignableFrom(property.PropertyType))
            {
                // Its keys are the keeper's own; only the values have a shape.
                Type values = property.PropertyType.GetGenericArguments()[1];
                foreach (string problem in child.GetChildren().SelectMany(entry => Convert(entry, values)))
                {
                    yield return problem;
                }

                continue;
            }

            bool isGroup = property.PropertyType.Namespace == shape.Namespace && property.PropertyType.IsClass;
            foreach (string problem in isGroup ? Check(child, property.PropertyType) : Convert(child, property.PropertyType))
            {
                yield return problem;
            }
        }
    }

    private static IEnumerable<string> Convert(IConfigurationSection setting, Type type)
    {
        Type plain = Nullable.GetUnderlyingType(type) ?? type;
        if (setting.GetChildren().Any())
        {
            yield return $"{setting.Path} is a group of settings. Allowed: {Words(plain)}.";
        }
        else if (!string.IsNullOrEmpty(setting.Value) && plain != typeof(string) && !CanConvert(setting.Value, plain))
        {
            yield return $"{setting.Path} is \"{setting.Value}\". Allowed: {Words(plain)}.";
        }
    }

    private static bool CanConvert(string value, Type type)
    {
        try
        {
            return TypeDescriptor.GetConverter(type).ConvertFromString(null, CultureInfo.InvariantCulture, value) is not null;
        }
        catch (Exception error) when (error is FormatException or ArgumentException or NotSupportedException or OverflowException)
        {
            return false;
        }
    }

    private static string Words(Type type) => type == typeof(int) ? "a whole number" : type == typeof(bool) ? "true or false" : "a text";

    private static string Value(IConfigurationSection child) => child.Value is { Length: > 0 } value ? $" (it is set to \"{value}\")" : "";
}
