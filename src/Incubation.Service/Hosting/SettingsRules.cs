using System.Collections;
using System.ComponentModel.DataAnnotations;
using System.Globalization;
using System.Net;
using System.Reflection;
using Incubation.Core.Readings;
using Incubation.Service.Broker;
using Microsoft.Extensions.Options;
using NodaTime;

namespace Incubation.Service.Hosting;

/// <summary>What values the settings may have: the attributes on the options, and the rules between them. One line for each that is broken.</summary>
internal static class SettingsRules
{
    public static IEnumerable<string> Check(IncubationOptions options, RunMode mode)
        => Attributes(options, IncubationOptions.Section).Concat(Between(options, mode));

    private static IEnumerable<string> Attributes(object group, string path)
    {
        foreach (PropertyInfo property in group.GetType().GetProperties(BindingFlags.Public | BindingFlags.Instance))
        {
            object? value = property.GetValue(group);
            string key = $"{path}:{property.Name}";
            if (property.GetCustomAttribute<ValidateObjectMembersAttribute>() is not null && value is not null and not IEnumerable)
            {
                foreach (string problem in Attributes(value, key))
                {
                    yield return problem;
                }

                continue;
            }

            ValidationAttribute? broken = property.GetCustomAttributes<ValidationAttribute>().FirstOrDefault(rule => !rule.IsValid(Given(value)));
            if (broken is not null)
            {
                yield return Wrong(key, value, Allowed(broken));
            }
        }
    }

    // An empty variable in the environment means "not set", as it does for the rest of the configuration.
    private static object? Given(object? value) => value is "" ? null : value;

    private static IEnumerable<string> Between(IncubationOptions options, RunMode mode)
    {
        if (DateTimeZoneProviders.Tzdb.GetZoneOrNull(options.Facility.Zone ?? "") is null)
        {
            yield return Wrong("Incubation:Facility:Zone", options.Facility.Zone, "an IANA time zone such as Europe/Lisbon, Africa/Accra or Etc/UTC");
        }

        if (options.Http.Port != 0 && options.Http.Port == options.Mqtt.Port)
        {
            yield return Wrong("Incubation:Mqtt:Port", options.Mqtt.Port, "a port of its own; Incubation:Http:Port has this one");
        }

        if (!string.IsNullOrEmpty(options.Http.PublicAddress) && !IsWeb(options.Http.PublicAddress))
        {
            yield return Wrong("Incubation:Http:PublicAddress", options.Http.PublicAddress, "an address such as http://192.0.2.10:5080 or https://eggs.example, without a path");
        }

        if (!TopicTemplate.TryParse(options.Mqtt.Topic ?? "", out _, out string? reason))
        {
            yield return Wrong("Incubation:Mqtt:Topic", options.Mqtt.Topic, $"a topic such as {TopicTemplate.Default}. {reason}");
        }

        if (options.Mqtt.Fields.Problem() is { } problemOfFields)
        {
            yield return $"Incubation:Mqtt:Fields can't be used. {problemOfFields}";
        }

        foreach ((string quantity, int days) in options.Readings.KeepDays.Where(kept => kept.Value is < 1 or > 36_500))
        {
            yield return Wrong($"Incubation:Readings:KeepDays:{quantity}", days, "1 to 36500 days; leave it out to keep them for good");
        }

        foreach (string problem in Pairs(options).Concat(ExternalBrokerRules.Check(options.Mqtt, mode)).Concat(Mail(options.Mail))
            .Concat(InfluxOptions.Check(options.Influx)).Concat(Tests(options.Test, mode)))
        {
            yield return problem;
        }
    }

    private static IEnumerable<string> Pairs(IncubationOptions options)
    {
        (string Group, string? User, string? Password)[] pairs =
            [
                ("Mqtt", options.Mqtt.User, options.Mqtt.Password), ("Mail", options.Mail.User, options.Mail.Password),
                ("Mqtt:External", options.Mqtt.External.User, options.Mqtt.External.Password),
            ];
        foreach ((string group, string? user, string? password) in pairs)
        {
            if (string.IsNullOrEmpty(user) != string.IsNullOrEmpty(password))
            {
                // The password itself is never shown.
                string missing = string.IsNullOrEmpty(user) ? "User" : "Password";
                yield return $"Incubation:{group}:{missing} is empty. Allowed: User and Password both set, or neither.";
            }
        }
    }

    private static IEnumerable<string> Mail(MailOptions mail)
    {
        if (string.IsNullOrEmpty(mail.Host))
        {
            yield break;
        }

        if (string.IsNullOrEmpty(mail.From))
        {
            yield return Wrong("Incubation:Mail:From", mail.From, "the mail address that messages come from, because Incubation:Mail:Host is set");
        }

        if (mail.Security == "none" && !IsThisMachine(mail.Host))
        {
            yield return Wrong("Incubation:Mail:Security", mail.Security, $"starttls or tls; none only when Incubation:Mail:Host is this machine, and it is \"{mail.Host}\"");
        }
    }

    private static IEnumerable<string> Tests(TestOptions test, RunMode mode)
    {
        if (!mode.AllowTestSettings && test.Synchronous != "full")
        {
            yield return Wrong("Incubation:Test:Synchronous", test.Synchronous, "full; anything else loses readings and needs serve --allow-test-settings");
        }

        TestOptions usual = new();
        if (!mode.AllowTestSettings && test.LockPatienceMilliseconds != usual.LockPatienceMilliseconds)
        {
            yield return Wrong("Incubation:Test:LockPatienceMilliseconds", test.LockPatienceMilliseconds, $"{usual.LockPatienceMilliseconds}; others need serve --allow-test-settings");
        }

        if (!mode.AllowTestSettings && test.StoreRetryMilliseconds != usual.StoreRetryMilliseconds)
        {
            yield return Wrong("Incubation:Test:StoreRetryMilliseconds", test.StoreRetryMilliseconds, $"{usual.StoreRetryMilliseconds}; others need serve --allow-test-settings");
        }

        if (!mode.AllowTestSettings && test.HeartbeatSeconds != usual.HeartbeatSeconds)
        {
            yield return Wrong("Incubation:Test:HeartbeatSeconds", test.HeartbeatSeconds, "15; anything else needs serve --allow-test-settings");
        }

        if (!mode.AllowTestSettings && test.SealAfterMilliseconds != usual.SealAfterMilliseconds)
        {
            yield return Wrong("Incubation:Test:SealAfterMilliseconds", test.SealAfterMilliseconds, $"{usual.SealAfterMilliseconds}; others need serve --allow-test-settings");
        }
    }

    private static string Allowed(ValidationAttribute rule) => rule switch
    {
        RangeAttribute range => string.Create(CultureInfo.InvariantCulture, $"a number from {range.Minimum} to {range.Maximum}"),
        RegularExpressionAttribute words => words.Pattern.Replace("|", " or ", StringComparison.Ordinal),
        StringLengthAttribute length => string.Create(CultureInfo.InvariantCulture, $"{length.MinimumLength} to {length.MaximumLength} characters"),
        EmailAddressAttribute => "a mail address such as keeper@example.org",
        UrlAttribute => "an address such as http://192.0.2.10:5080",
        _ => "a value that is not empty",
    };

    internal static string Wrong(string key, object? value, string allowed)
        => string.Create(CultureInfo.InvariantCulture, $"{key} is \"{value}\". Allowed: {allowed}.");

    private static bool IsWeb(string address)
        => Uri.TryCreate(address, UriKind.Absolute, out Uri? uri) && (uri.Scheme is "http" or "https") && uri.AbsolutePath == "/" && uri.Query.Length == 0;

    private static bool IsThisMachine(string host)
        => host.Equals("localhost", StringComparison.OrdinalIgnoreCase) || (IPAddress.TryParse(host, out IPAddress? address) && IPAddress.IsLoopback(address));
}
