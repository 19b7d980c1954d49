using Incubation.Service.Hosting;
using Microsoft.Extensions.Configuration;
using Xunit;

namespace Incubation.Service.Tests.Hosting;

public sealed class SettingsTests
{
    [Theory]
    [InlineData("Http:Port", "70000", "a number from 0 to 65535")]
    [InlineData("Http:Port", "eighty", "a whole number")]
    [InlineData("Http:Port", "1883", "a port of its own", "Mqtt:Port")]
    [InlineData("Http:Listen", "everywhere", "any or loopback")]
    [InlineData("Http:PublicAddress", "ftp://eggs", "https://eggs.example")]
    [InlineData("Http:PublicAddress", "http://eggs/path", "without a path")]
    [InlineData("Facility:Zone", "Mars/Olympus", "IANA time zone")]
    [InlineData("Facility:Name", "", "a value that is not empty")]
    [InlineData("Mqtt:Topic", "probes/{quantity}", "{probe}")]
    [InlineData("Mqtt:Fields:Unit", "value", "\"value\" is there twice", "Mqtt:Fields")]
    [InlineData("Mqtt:Fields:Quantities:tempF", "temperature furlong", "temperature in furlong", "Mqtt:Fields")]
    [InlineData("Mqtt:Fields:Quantities:tempF", "Temperature", "a-z, 0-9, hyphen", "Mqtt:Fields")]
    [InlineData("Mqtt:Fields:Quantities:a.b.c.d.e", "temperature", "levels deep", "Mqtt:Fields")]
    [InlineData("Mqtt:User", "probe", "both set, or neither", "Mqtt:Password")]
    [InlineData("Mail:Host", "mail.example", "mail address that messages come from", "Mail:From")]
    [InlineData("Mail:Port", "0", "a number from 1 to 65535")]
    [InlineData("Mail:CheckRevocation", "perhaps", "true or false")]
    [InlineData("Test:Synchronous", "off", "--allow-test-settings")]
    [InlineData("Htpp:Port", "80", "Http", "Htpp")]
    [InlineData("Http:Ports", "80", "Port, Listen, PublicAddress")]
    [InlineData("Mqtt:Topic:Deep", "x", "a text", "Mqtt:Topic")]
    public void Read_wrong_setting_is_refused_with_key_and_what_is_allowed(string key, string value, string allowed, string? named = null)
    {
        StartException error = Assert.Throws<StartException>(() => Read((key, value)));
        Assert.Contains($"Incubation:{named ?? key} ", error.Message, StringComparison.Ordinal);
        Assert.Contains(allowed, error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Read_password_without_user_does_not_show_the_password()
    {
        StartException error = Assert.Throws<StartException>(() => Read(("Mail:Password", "hunter2hunter2")));
        Assert.DoesNotContain("hunter2", error.Message, StringComparison.Ordinal);
        Assert.Contains("Incubation:Mail:User", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Read_fields_of_further_quantities_have_the_keepers_own_names()
        => Assert.Equal("temperature degF", Read(("Mqtt:Fields:Quantities:tempF", "temperature degF")).Mqtt.Fields.Quantities["tempF"]);

    [Fact]
    public void Read_several_wrong_settings_names_each_on_a_line()
    {
        StartException error = Assert.Throws<StartException>(() => Read(("Http:Port", "-1"), ("Facility:Zone", "x")));
        Assert.Equal(2, error.Message.Split(Environment.NewLine).Length);
    }

    [Fact]
    public void Read_with_permission_obeys_test_settings()
        => Assert.Equal("off", Read(new RunMode(AllowTestSettings: true), ("Test:Synchronous", "off")).Test.Synchronous);

    [Fact]
    public void Read_shipped_settings_are_right_and_say_what_the_defaults_are()
    {
        IConfiguration shipped = new ConfigurationBuilder().AddJsonFile(Path.Combine(AppContext.BaseDirectory, "appsettings.json")).Build();
        IncubationOptions options = SettingsReader.Read(shipped, new RunMode());
        var defaults = new IncubationOptions();
        Assert.Equal((defaults.Http.Port, defaults.Mqtt.Port, defaults.Mqtt.Topic), (options.Http.Port, options.Mqtt.Port, options.Mqtt.Topic));
    }

    private static IncubationOptions Read(params (string Key, string Value)[] settings) => Read(new RunMode(), settings);

    private static IncubationOptions Read(RunMode mode, params (string Key, string Value)[] settings)
        => SettingsReader.Read(
            new ConfigurationBuilder().AddInMemoryCollection(settings.Select(s => KeyValuePair.Create($"Incubation:{s.Key}", (string?)s.Value))).Build(), mode);
}
