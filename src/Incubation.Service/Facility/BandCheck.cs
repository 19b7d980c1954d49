using System.Globalization;
using Incubation.Core.Readings;

namespace Incubation.Service.Facility;

/// <summary>Says what is wrong with a band, field by field, and what is allowed instead.</summary>
internal static class BandCheck
{
    private const int LongestSeconds = 86_400;
    private const string Order = "dangerLow < warningLow < warningHigh < dangerHigh; leave one out for no such limit.";

    /// <summary>The band to keep, or null and the errors by field.</summary>
    public static BandView? Check(Quantity quantity, BandRequest? request, out Dictionary<string, string[]> errors)
    {
        errors = [];
        if (request is null)
        {
            errors["body"] = ["a JSON object with the limits, the deadband and the delays."];
            return null;
        }

        (double least, double most) = Range(quantity);
        Limit(errors, "dangerLow", request.DangerLow, least, most, quantity);
        Limit(errors, "warningLow", request.WarningLow, least, most, quantity);
        Limit(errors, "warningHigh", request.WarningHigh, least, most, quantity);
        Limit(errors, "dangerHigh", request.DangerHigh, least, most, quantity);
        if (errors.Count == 0)
        {
            InOrder(errors, request);
        }

        Deadband(errors, request);
        Seconds(errors, "warningOnDelaySeconds", request.WarningOnDelaySeconds, 0);
        Seconds(errors, "dangerOnDelaySeconds", request.DangerOnDelaySeconds, 0);
        Seconds(errors, "offDelaySeconds", request.OffDelaySeconds, 0);
        // A probe that is silent at once would never be anything else.
        Seconds(errors, "silentAfterSeconds", request.SilentAfterSeconds, 1);
        return errors.Count > 0
            ? null
            : new BandView(
                request.DangerLow, request.WarningLow, request.WarningHigh, request.DangerHigh, request.Deadband!.Value,
                request.WarningOnDelaySeconds!.Value, request.DangerOnDelaySeconds!.Value, request.OffDelaySeconds!.Value,
                request.SilentAfterSeconds!.Value);
    }

    private static (double Least, double Most) Range(Quantity quantity) => quantity.Name switch
    {
        "temperature" => (-40, 80),
        "humidity" => (0, 100),
        _ => (-1e9, 1e9),
    };

    private static void Limit(
        Dictionary<string, string[]> errors, string field, double? value, double least, double most, Quantity quantity)
    {
        if (value is { } v && !(v >= least && v <= most))
        {
            string unit = quantity.Name switch { "temperature" => " °C", "humidity" => " %RH", _ => "" };
            errors[field] = [string.Create(CultureInfo.InvariantCulture, $"a number from {least} to {most}{unit}, or null for no such limit.")];
        }
    }

    private static void InOrder(Dictionary<string, string[]> errors, BandRequest request)
    {
        ReadOnlySpan<(string Field, double? Value)> limits =
        [
            ("dangerLow", request.DangerLow), ("warningLow", request.WarningLow),
            ("warningHigh", request.WarningHigh), ("dangerHigh", request.DangerHigh),
        ];
        double? last = null;
        foreach ((string field, double? value) in limits)
        {
            if (value is not { } v)
            {
                continue;
            }

            if (v <= last)
            {
                errors[field] = [string.Create(CultureInfo.InvariantCulture, $"more than {last}: {Order}")];
            }

            last = v;
        }
    }

    private static void Deadband(Dictionary<string, string[]> errors, BandRequest request)
    {
        double? room = (request.WarningHigh ?? request.DangerHigh) - (request.WarningLow ?? request.DangerLow);
        if (request.Deadband is not { } deadband || !(deadband >= 0 && deadband <= 1e6))
        {
            errors["deadband"] = ["a number, 0 or more, in the unit of the limits."];
        }
        else if (room > 0 && deadband >= room)
        {
            // An alarm would clear only where the opposite one is raised.
            errors["deadband"] = [string.Create(CultureInfo.InvariantCulture, $"less than the {room:0.###} between the inner limits.")];
        }
    }

    private static void Seconds(Dictionary<string, string[]> errors, string field, int? value, int least)
    {
        if (value is not { } v || v < least || v > LongestSeconds)
        {
            errors[field] = [string.Create(CultureInfo.InvariantCulture, $"whole seconds from {least} to {LongestSeconds}.")];
        }
    }
}
