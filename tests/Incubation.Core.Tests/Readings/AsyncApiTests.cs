using System.Text;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Incubation.Core.Readings;
using Xunit;

namespace Incubation.Core.Tests.Readings;

/// <summary>
/// The contract as AsyncAPI 3.0 (AsyncAPI Initiative, AsyncAPI Specification 3.0.0, 2023): what it requires, every reference, and that it says
/// what the service does. Its examples are read by the service's reader.
/// </summary>
public sealed partial class AsyncApiTests
{
    private static readonly JsonObject Document = JsonNode.Parse(File.ReadAllText(Path.Combine(FirmwareNotesTests.Folder(), "asyncapi.json")))!.AsObject();

    [Fact]
    public void Document_has_what_the_specification_requires()
    {
        Assert.Equal("3.0.0", (string?)Document["asyncapi"]);
        Assert.NotEmpty((string)Document["info"]!["title"]!);
        Assert.NotEmpty((string)Document["info"]!["version"]!);
        string[] allowed = ["asyncapi", "id", "info", "servers", "defaultContentType", "channels", "operations", "components"];
        Assert.Empty(Document.Select(p => p.Key).Except(allowed));
        Assert.All(Members("servers"), server => Assert.True(server.Value!["host"] is not null && server.Value["protocol"] is not null, server.Key));
        Assert.All(Members("operations"), operation =>
        {
            Assert.Contains((string?)operation.Value!["action"], new[] { "send", "receive" });
            Assert.StartsWith("#/channels/", (string)operation.Value["channel"]!["$ref"]!, StringComparison.Ordinal);
        });
        Assert.All(Members("channels"), channel => Assert.NotEmpty(channel.Value!["messages"]!.AsObject()));
    }

    [Fact]
    public void Document_every_reference_leads_somewhere()
    {
        string[] references = [.. Reference().Matches(Document.ToJsonString()).Select(m => m.Groups[1].Value).Distinct()];
        Assert.NotEmpty(references);
        Assert.All(references, reference =>
        {
            JsonNode? node = Document;
            foreach (string part in reference.Split('/').Skip(1))
            {
                node = node?[part];
            }

            Assert.True(node is not null, reference);
        });
    }

    [Fact]
    public void Document_parameters_of_a_channel_are_those_in_its_address()
        => Assert.All(Members("channels"), channel => Assert.Equal(
            Parameter().Matches((string)channel.Value!["address"]!).Select(m => m.Groups[1].Value).Distinct().Order(StringComparer.Ordinal),
            channel.Value["parameters"]!.AsObject().Select(p => p.Key).Order(StringComparer.Ordinal)));

    [Fact]
    public void Document_addresses_are_what_the_service_takes_them_for()
    {
        Assert.True(TopicTemplate.TryParse(TopicTemplate.Default, out TopicTemplate? template, out _));
        Assert.Equal(TopicTemplate.Default, Address("reading"));
        Assert.Equal(TopicKind.Reading, template!.Match(Filled("reading")).Kind);
        Assert.Equal(TopicKind.ProbeStatus, template.Match(Filled("status")).Kind);
        Assert.Equal(TopicKind.ServiceAlarm, template.Match(Filled("alarm")).Kind);
        Assert.Equal(TopicTemplate.AlarmTopic("hazel"), Filled("alarm"));
    }

    [Fact]
    public void Document_names_every_quantity_that_the_service_knows()
    {
        string[] known = [.. Quantity.Known.Select(q => q.Name).Order(StringComparer.Ordinal)];
        JsonNode reading = Document["channels"]!["reading"]!["parameters"]!["quantity"]!["examples"]!;
        Assert.Equal(known, reading.AsArray().Select(n => (string)n!).Order(StringComparer.Ordinal));
        JsonObject fields = Document["components"]!["schemas"]!["severalQuantities"]!["properties"]!.AsObject();
        Assert.Equal(known, fields.Select(f => f.Key).Where(f => f != PayloadFields.Default.At).Order(StringComparer.Ordinal));
    }

    [Theory]
    [InlineData("number", 2)]
    [InlineData("object", 3)]
    [InlineData("severalQuantities", 1)]
    [InlineData("senmlJson", 1)]
    public void Document_examples_of_payloads_are_read(string message, int count)
    {
        JsonArray examples = Document["components"]!["messages"]![message]!["examples"]!.AsArray();
        Assert.Equal(count, examples.Count);
        Assert.All(examples, example =>
        {
            PayloadResult result = Heard.Read(Encoding.UTF8.GetBytes(example!["payload"]!.ToJsonString()), Quantity.Temperature);
            Assert.Null(result.Rejection);
            Assert.False(result.Readings.IsEmpty);
        });
    }

    private static JsonObject Members(string name) => Document[name]!.AsObject();

    private static string Address(string channel) => (string)Document["channels"]![channel]!["address"]!;

    private static string Filled(string channel) => Address(channel)
        .Replace("{incubator}", "hazel", StringComparison.Ordinal).Replace("{probe}", "hazel-air", StringComparison.Ordinal)
        .Replace("{quantity}", "temperature", StringComparison.Ordinal);

    [GeneratedRegex("\"\\$ref\":\"(#/[^\"]+)\"")]
    private static partial Regex Reference();

    [GeneratedRegex(@"\{(\w+)\}")]
    private static partial Regex Parameter();
}
