using System.Security.Cryptography;
using System.Text;
using System.Text.Encodings.Web;

namespace Incubation.Service.Calling;

/// <summary>The page behind an answer link: no script, readable at three in the morning on a small phone.</summary>
internal static class AnswerPage
{
    private const string Style =
        ":root{color-scheme:dark}*{box-sizing:border-box}body{margin:0;min-height:100vh;background:#14110f;color:#f3ece4;" +
        "font:1.125rem/1.5 system-ui,sans-serif;display:flex;justify-content:center}" +
        "main{width:100%;max-width:32rem;padding:2rem 1.25rem}h1{font-size:1.5rem;line-height:1.3;margin:0 0 1rem}" +
        "p{margin:0 0 1rem;overflow-wrap:anywhere}.gravity{display:inline-block;border:2px solid #f0b35a;color:#f0b35a;padding:.1rem .6rem;font-weight:600}" +
        ".danger{border-color:#ff8a73;color:#ff8a73}button{width:100%;min-height:4.5rem;border:0;border-radius:.75rem;background:#f0b35a;" +
        "color:#14110f;font:inherit;font-size:1.5rem;font-weight:700}button:focus-visible{outline:3px solid #f3ece4;outline-offset:3px}small{color:#c4b8ab;font-size:1rem}";

    /// <summary>Only this one style, and only a form to ourselves.</summary>
    public static string ContentPolicy { get; } =
        "default-src 'none'; style-src 'sha256-" + Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(Style)))
        + "'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

    /// <param name="title">What is so.</param>
    /// <param name="gravity">"danger", "warning" or null.</param>
    /// <param name="lines">Sentences below it.</param>
    /// <param name="button">Words on the button, or null for none.</param>
    public static string Html(string title, string? gravity, IEnumerable<string> lines, string? button)
    {
        var html = new StringBuilder()
            .Append("<!doctype html><html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width,initial-scale=1\">")
            .Append("<meta name=\"robots\" content=\"noindex,nofollow\"><title>").Append(Safe(title)).Append("</title><style>").Append(Style)
            .Append("</style></head><body><main>");
        if (gravity is not null)
        {
            html.Append("<p class=\"gravity ").Append(gravity == "danger" ? "danger" : "warning").Append("\">").Append(Safe(gravity)).Append("</p>");
        }

        html.Append("<h1>").Append(Safe(title)).Append("</h1>");
        foreach (string line in lines)
        {
            html.Append("<p>").Append(Safe(line)).Append("</p>");
        }

        if (button is not null)
        {
            html.Append("<form method=\"post\"><button type=\"submit\">").Append(Safe(button)).Append("</button></form>");
        }

        return html.Append("<p><small>Incubation informs; it is no safety device.</small></p></main></body></html>").ToString();
    }

    private static string Safe(string text) => HtmlEncoder.Default.Encode(text);
}
