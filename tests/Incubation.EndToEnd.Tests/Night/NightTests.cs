using System.Globalization;
using System.Net;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Incubation.EndToEnd.Tests.Instruments;
using Microsoft.Playwright;
using Xunit;

namespace Incubation.EndToEnd.Tests.Night;

/// <summary>
/// The night, end to end, on the real program: a client that is not ours, a real SMTP conversation, a webhook checked by its specification
/// (Standard Webhooks, spec/standard-webhooks.md), a real browser.
/// </summary>
public sealed partial class NightTests(ITestOutputHelper output)
{
    private static readonly TimeSpan Grace = TimeSpan.FromSeconds(2);
    private const int Repeat = 10;

    [Fact(Timeout = 240_000)]
    public async Task A_drift_calls_by_mail_and_webhook_and_the_call_ends_when_someone_answers()
    {
        CancellationToken stop = TestContext.Current.CancellationToken;
        await using MailReceiver mail = new();
        await using WebhookReceiver webhooks = new();
        ServiceSetup setup = new();
        mail.Settle(setup);
        await using EggRoom room = await EggRoom.OpenAsync(setup, stop);
        await room.CallAsync(webhooks, Repeat, stop);
        await using Browser browser = await Browser.OpenAsync();

        // A warning: mail and webhook within on-delay + 2 s of the moment before the reading was sent.
        long left = TimeProvider.System.GetTimestamp();
        await room.Probes.PublishAsync(EggRoom.Topic, "33.0", stop);
        string link = await HoldCalledAsync(mail, webhooks, "warning", left, EggRoom.WarningOnDelay, stop);

        await LookTenTimesAsync(link, stop);
        Assert.Equal("unacknowledged", (string?)(await room.AlarmAsync("warning", stop))!["state"]);
        int before = webhooks.All.Count;
        await Waiting.UntilAsync(() => Task.FromResult(webhooks.All.Count > before), TimeSpan.FromSeconds(Repeat + 10), "the call to be repeated: looking is no answer", stop);

        // Answered on a phone, on the page of the link.
        IPage page = await browser.PageAsync((390, 844), room.Service.Address);
        await page.GotoAsync(link);
        await Browser.HoldFittingAsync(page, "the answer page");
        await Browser.HoldAccessibleAsync(page, "the answer page");
        await Browser.PictureAsync(page, "answer-390");
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { NameRegex = OnIt() }).ClickAsync();
        await HoldAnsweredAsync(room, "warning", stop);

        // A danger is an alarm of its own: the answer to the warning does not silence it.
        left = TimeProvider.System.GetTimestamp();
        await room.Probes.PublishAsync(EggRoom.Topic, "34.6", stop);
        await HoldCalledAsync(mail, webhooks, "danger", left, EggRoom.DangerOnDelay, stop);
        Assert.Equal("acknowledged", (string?)(await room.AlarmAsync("warning", stop))!["state"]);
        Assert.Equal("unacknowledged", (string?)(await room.AlarmAsync("danger", stop))!["state"]);

        // Answered on the first screen, which needs no reload to show who has it.
        await SignInAsync(page, room.Service.Address);
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { NameRegex = OnIt() }).First.ClickAsync();
        await HoldAnsweredAsync(room, "danger", stop);
        await Assertions.Expect(page.GetByText($"{ServiceClient.Owner} has it").First).ToBeVisibleAsync();
        await HoldQuietAsync(mail, webhooks, stop);
    }

    private async Task<string> HoldCalledAsync(
        MailReceiver mail, WebhookReceiver webhooks, string severity, long left, int onDelay, CancellationToken stop)
    {
        TimeSpan limit = TimeSpan.FromSeconds(onDelay) + Grace;
        WebhookReceiver.Received call = await Waiting.ForAsync(
            () => webhooks.All.FirstOrDefault(received => received.Severity == severity), limit + TimeSpan.FromSeconds(20), $"the webhook of the {severity}", stop);
        (string Text, long Timestamp)[] letter = await Waiting.ForAsync(
            () => mail.Mails.Where(m => m.Timestamp > left).Take(1).ToArray() is { Length: 1 } one ? one : null, TimeSpan.FromSeconds(20), $"the mail of the {severity}", stop);
        TimeSpan byWebhook = TimeProvider.System.GetElapsedTime(left, call.Timestamp);
        TimeSpan byMail = TimeProvider.System.GetElapsedTime(left, letter[0].Timestamp);
        output.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"{severity}: on-delay {onDelay} s; webhook after {byWebhook.TotalSeconds:0.000} s, mail after {byMail.TotalSeconds:0.000} s"));
        Assert.Null(call.Fault);
        Assert.Equal("alarm.raised", call.Type);
        Assert.InRange(byWebhook, TimeSpan.FromSeconds(onDelay), limit);
        Assert.InRange(byMail, TimeSpan.FromSeconds(onDelay), limit);
        return Link().Match(letter[0].Text) is { Success: true } link ? link.Value : throw new InvalidDataException($"No answer link in: {letter[0].Text}");
    }

    /// <summary>As mail scanners and chat previews do. Ten times with GET, ten with HEAD, without a cookie.</summary>
    private static async Task LookTenTimesAsync(string link, CancellationToken stop)
    {
        using HttpClient robot = new();
        for (int time = 0; time < 10; time++)
        {
            foreach (HttpMethod method in (HttpMethod[])[HttpMethod.Get, HttpMethod.Head])
            {
                using HttpRequestMessage request = new(method, link);
                using HttpResponseMessage answer = await robot.SendAsync(request, stop);
                Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
            }
        }
    }

    private static async Task HoldAnsweredAsync(EggRoom room, string severity, CancellationToken stop)
        => await Waiting.UntilAsync(async () => await room.AlarmAsync(severity, stop) is JsonNode alarm && (string?)alarm["state"] == "acknowledged",
            TimeSpan.FromSeconds(10), $"the {severity} to be acknowledged", stop);

    /// <summary>Nothing may come for one and a half times the repeat; absence can only be waited for.</summary>
    private static async Task HoldQuietAsync(MailReceiver mail, WebhookReceiver webhooks, CancellationToken stop)
    {
        // A call that was already under way when the answer came may still arrive.
        await Waiting.Pause(TimeSpan.FromSeconds(1), stop);
        (int mails, int calls) = (mail.Mails.Count, Raised(webhooks));
        await Waiting.Pause(TimeSpan.FromSeconds(1.5 * Repeat), stop);
        Assert.Equal((mails, calls), (mail.Mails.Count, Raised(webhooks)));
    }

    private static int Raised(WebhookReceiver webhooks) => webhooks.All.Count(call => call.Type == "alarm.raised");

    private static async Task SignInAsync(IPage page, Uri address)
    {
        await page.GotoAsync(address.ToString());
        await page.GetByLabel("Your name").FillAsync(ServiceClient.Owner);
        await page.GetByLabel("Your password").FillAsync(ServiceClient.Password);
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Sign in" }).ClickAsync();
    }

    [GeneratedRegex("I am on it")]
    private static partial Regex OnIt();

    [GeneratedRegex(@"https?://[^\s""<>]+/answer/[A-Za-z0-9_\-]+")]
    private static partial Regex Link();
}
