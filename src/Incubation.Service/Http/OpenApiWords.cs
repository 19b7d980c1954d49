using Microsoft.AspNetCore.OpenApi;

namespace Incubation.Service.Http;

/// <summary>The API description: OpenAPI 3.1, with a title and without the machine's own address in it, so that it can be checked in.</summary>
internal static class OpenApiWords
{
    internal static void Configure(OpenApiOptions options)
        => options.AddDocumentTransformer((document, _, _) =>
        {
            document.Info.Title = "Incubation";
            document.Info.Version = "1";
            document.Info.Description = "Times are RFC 3339 in UTC, temperatures °C, humidity %RH. Errors are problem documents (RFC 9457).";
            document.Servers?.Clear();
            return Task.CompletedTask;
        });
}
