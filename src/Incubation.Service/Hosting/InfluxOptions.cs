using System.ComponentModel.DataAnnotations;

namespace Incubation.Service.Hosting;

/// <summary>A copy of all readings in InfluxDB (1.8, 2.x or 3.x). Nothing depends on it.</summary>
internal sealed class InfluxOptions
{
    /// <summary>Address such as <c>http://192.0.2.20:8086</c>; empty makes no copy.</summary>
    public string? Url { get; set; }

    /// <summary>Token that may write the bucket and read it; <c>user:password</c> for 1.8.</summary>
    public string? Token { get; set; }

    /// <summary>Organisation; 1.8 and 3.x have none and take anything.</summary>
    [Required] public string Org { get; set; } = "incubation";

    /// <summary>Bucket that is written; <c>database/retention-policy</c> for 1.8.</summary>
    [Required] public string Bucket { get; set; } = "incubation";

    /// <summary>Database that InfluxQL finds the bucket under; empty where it has the bucket's name.</summary>
    public string? Database { get; set; }

    /// <summary>History older than this is read from the copy even while it is still here too; empty: only what is no longer here.</summary>
    [Range(1, 36_500)] public int? ReadBeyondDays { get; set; }

    /// <summary>Whether a copy is made.</summary>
    public bool IsOn => !string.IsNullOrEmpty(Url);

    /// <summary>The rules that no attribute says.</summary>
    public static IEnumerable<string> Check(InfluxOptions influx)
    {
        const string allowed = "an address such as http://192.0.2.20:8086, without user, query or fragment";
        if (influx.IsOn && !(Uri.TryCreate(influx.Url, UriKind.Absolute, out Uri? url) && url.Scheme is "http" or "https"
            && url.UserInfo.Length == 0 && url.Query.Length == 0 && url.Fragment.Length == 0))
        {
            // Somebody may have put the password into it, so it isn't shown.
            yield return $"Incubation:Influx:Url is no address of a server. Allowed: {allowed}. A password belongs into Incubation:Influx:Token.";
        }

        if (!influx.IsOn && (!string.IsNullOrEmpty(influx.Token) || influx.ReadBeyondDays is not null))
        {
            yield return $"Incubation:Influx:Url is empty. Allowed: {allowed}, because another setting of Incubation:Influx is set; or none of them.";
        }

        if (influx.Token?.AsSpan().ContainsAnyExceptInRange('!', '~') == true)
        {
            yield return "Incubation:Influx:Token has a blank or a letter in it that no token has. Allowed: the token as InfluxDB shows it.";
        }
    }
}
