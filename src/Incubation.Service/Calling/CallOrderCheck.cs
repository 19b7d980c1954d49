using System.ComponentModel.DataAnnotations;
using System.Globalization;
using Incubation.Core;
using Incubation.Storage.Records;
using MimeKit;

namespace Incubation.Service.Calling;

/// <summary>A step as it is sent in. A secret that is left out stays as it was.</summary>
internal sealed record CallStepRequest(
    Guid? Id, string? Who, string? Channel, string? Address, string? Secret, int? AfterSeconds, int? RepeatSeconds, bool? Enabled);

/// <summary>The whole order as it is sent in.</summary>
internal sealed record CallOrderRequest(IReadOnlyList<CallStepRequest?>? Steps);

/// <summary>Reads a call-out order, or says field by field what is allowed.</summary>
internal static class CallOrderCheck
{
    /// <summary>Longest wait and longest pause: a day. Whoever wants longer wants no call.</summary>
    private const int MostSeconds = 86_400;

    /// <summary>Shortest pause: a receiver needs time to wake up, and a mailbox is soon full.</summary>
    private const int LeastRepeat = 10;

    private const int AddressLength = 500;

    public static (List<CallStepRecord> Rows, Dictionary<string, string[]> Errors) Read(CallOrderRequest request, IReadOnlyList<OrderedStep> former)
    {
        List<CallStepRecord> rows = [];
        Dictionary<string, string[]> errors = [];
        if (request.Steps is null || request.Steps.Count > Limits.CallOutSteps)
        {
            errors["steps"] = [string.Create(CultureInfo.InvariantCulture, $"a list of at most {Limits.CallOutSteps} steps; an empty one calls nobody.")];
            return (rows, errors);
        }

        for (int i = 0; i < request.Steps.Count; i++)
        {
            rows.Add(Step(request.Steps[i] ?? new CallStepRequest(null, null, null, null, null, null, null, null), i, former, errors));
        }

        if (rows.Select(r => r.Id).Distinct().Count() != rows.Count)
        {
            errors["steps"] = ["each step its own id; leave the id out for a new step."];
        }

        return (rows, errors);
    }

    private static CallStepRecord Step(CallStepRequest step, int i, IReadOnlyList<OrderedStep> former, Dictionary<string, string[]> errors)
    {
        OrderedStep? before = former.FirstOrDefault(f => f.Step.Id == step.Id);
        void Wrong(string field, string allowed) => errors[string.Create(CultureInfo.InvariantCulture, $"steps[{i}].{field}")] = [allowed];

        string who = step.Who?.Trim() ?? "";
        if (who.Length is 0 or > Limits.NameLength || who.Any(char.IsControl))
        {
            Wrong("who", string.Create(CultureInfo.InvariantCulture, $"a name of 1 to {Limits.NameLength} characters on one line."));
        }

        string address = step.Address?.Trim() ?? "";
        string? secret = null;
        switch (step.Channel)
        {
            case "mail":
                if (!IsMail(address))
                {
                    Wrong("address", "one mail address such as keeper@example.org.");
                }

                break;
            case "webhook":
                // A former secret belongs to its receiver: it is not carried over to another address.
                secret = step.Secret ?? (before?.Address == address ? before?.Secret : null);
                if (!IsWeb(address))
                {
                    Wrong("address", "an http or https address without a user name in it.");
                }

                if (WebhookSignature.Key(secret) is null)
                {
                    Wrong("secret", "whsec_ followed by base64 of 24 to 64 bytes; needed anew when the address changes.");
                }

                break;
            default:
                Wrong("channel", "\"mail\" or \"webhook\".");
                break;
        }

        if (step.AfterSeconds is not (>= 0 and <= MostSeconds))
        {
            Wrong("afterSeconds", "a whole number from 0 to 86400.");
        }

        if (step.RepeatSeconds is not (0 or (>= LeastRepeat and <= MostSeconds)))
        {
            Wrong("repeatSeconds", "0 for no repeats, or a whole number from 10 to 86400.");
        }

        return new CallStepRecord
        {
            Id = step.Id is { } id && id != Guid.Empty ? id : Guid.NewGuid(),
            Position = i,
            Who = who,
            Channel = step.Channel ?? "",
            Address = address,
            Secret = secret,
            AfterSeconds = step.AfterSeconds ?? 0,
            RepeatSeconds = step.RepeatSeconds ?? 0,
            Enabled = step.Enabled ?? true,
        };
    }

    private static bool IsMail(string address)
        => address.Length is > 0 and <= AddressLength && !address.Any(c => char.IsControl(c) || char.IsWhiteSpace(c))
            && new EmailAddressAttribute().IsValid(address) && MailboxAddress.TryParse(address, out MailboxAddress? box) && box.Address == address;

    private static bool IsWeb(string address)
        => address.Length <= AddressLength && !address.Any(c => char.IsControl(c) || char.IsWhiteSpace(c))
            && Uri.TryCreate(address, UriKind.Absolute, out Uri? uri)
            && (uri.Scheme == Uri.UriSchemeHttp || uri.Scheme == Uri.UriSchemeHttps) && uri.UserInfo.Length == 0 && uri.Host.Length > 0;
}
