using System.Globalization;
using Incubation.EndToEnd.Tests.Instruments;
using Microsoft.Playwright;
using Xunit;

namespace Incubation.EndToEnd.Tests.Demo;

/// <summary>The demo as a newcomer meets it: up soon, alive, an alarm by itself; every page at every size.</summary>
public sealed class DemoTests(ITestOutputHelper output)
{
    private static readonly TimeSpan UpWithin = TimeSpan.FromSeconds(15);
    private static readonly TimeSpan AlarmWithin = TimeSpan.FromMinutes(2);

    [Fact(Timeout = 300_000)]
    public async Task The_demo_is_up_in_15_seconds_raises_an_alarm_by_itself_and_every_page_fits_and_is_accessible()
    {
        CancellationToken stop = TestContext.Current.CancellationToken;
        await using Browser browser = await Browser.OpenAsync();
        long started = TimeProvider.System.GetTimestamp();
        await using ServiceProcess demo = await ServiceProcess.StartAsync(new ServiceSetup { Verb = "demo" }, stop);
        IPage page = await browser.PageAsync((390, 844), demo.Address);
        await page.GotoAsync("/");
        await page.Locator("h1").First.WaitForAsync();
        TimeSpan up = TimeProvider.System.GetElapsedTime(started);
        Assert.True(up <= UpWithin, $"The page was up after {up.TotalSeconds:0.0} s.");
        await Browser.PictureAsync(page, "first-390-calm");

        // No reload: the page that is open must show it, raised and waiting for an answer, and not only a value beyond its band.
        ILocator alarmed = page.Locator("header.headline.warning, header.headline.danger")
            .Filter(new LocatorFilterOptions { Has = page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "I am on it" }) });
        Task<TimeSpan> raised = RaisedAsync();
        // The pages are looked at meanwhile, each in a window of its own.
        await HoldPagesAsync(browser, demo, stop);
        TimeSpan alarm = await raised;
        string sentence = await page.Locator("h1").First.InnerTextAsync();
        output.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"page up after {up.TotalSeconds:0.0} s, alarm on it after {alarm.TotalSeconds:0.0} s: {sentence}"));
        Assert.True(alarm <= AlarmWithin, $"The alarm took {alarm.TotalSeconds:0} s.");

        async Task<TimeSpan> RaisedAsync()
        {
            await alarmed.WaitForAsync(new LocatorWaitForOptions { Timeout = (float)AlarmWithin.TotalMilliseconds });
            return TimeProvider.System.GetElapsedTime(started);
        }
    }

    private static async Task HoldPagesAsync(Browser browser, ServiceProcess demo, CancellationToken stop)
    {
        using ServiceClient client = new(demo.Address);
        string incubator = (string)(await client.GetAsync("/api/incubators", stop))[0]!["key"]!;
        (string Name, string Path)[] pages =
        [
            ("first", "/"), ("incubator", $"/incubators/{incubator}"), ("probes", "/probes"), ("calling", "/calling"), ("phone", "/phone"),
        ];
        foreach ((int width, int height) in Browser.Sizes)
        {
            IPage page = await browser.PageAsync((width, height), demo.Address);
            foreach ((string name, string path) in pages)
            {
                string what = string.Create(CultureInfo.InvariantCulture, $"{name}-{width}x{height}");
                await page.GotoAsync(path);
                await page.Locator("h1").First.WaitForAsync();
                // The stream of events never ends, so "network idle" never comes; the last thing drawn is waited for instead.
                await page.WaitForFunctionAsync("() => !document.querySelector('[aria-busy=true]') && document.fonts.status === 'loaded'");
                await Browser.PictureAsync(page, what);
                await Browser.HoldFittingAsync(page, what);
                await Browser.HoldAccessibleAsync(page, what);
                if (name == "first" && width == 390)
                {
                    await PictureForReadmeAsync(page);
                }
            }
        }
    }

    /// <summary>The picture in the README, made anew only when asked for, so that a test run leaves the tree clean.</summary>
    private static async Task PictureForReadmeAsync(IPage page)
    {
        if (Environment.GetEnvironmentVariable("INCUBATION_PICTURES") == "1")
        {
            string folder = Directory.CreateDirectory(Path.Combine(House.Root, "tests", "Incubation.EndToEnd.Tests", "Pictures")).FullName;
            await page.ScreenshotAsync(new PageScreenshotOptions { Path = Path.Combine(folder, "first-screen.png") });
        }
    }
}
