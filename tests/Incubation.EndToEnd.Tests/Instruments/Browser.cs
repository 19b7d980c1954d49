using Deque.AxeCore.Playwright;
using Microsoft.Playwright;
using Xunit;

namespace Incubation.EndToEnd.Tests.Instruments;

/// <summary>The machine's Chromium, driven as a person with a phone or a desk would.</summary>
internal sealed class Browser : IAsyncDisposable
{
    private static readonly string[] Flags =
    [
        "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
        "--disable-component-update", "--disable-sync",
    ];

    private readonly IPlaywright _playwright;
    private readonly IBrowser _browser;

    private Browser(IPlaywright playwright, IBrowser browser) => (_playwright, _browser) = (playwright, browser);

    /// <summary>Sizes that the pages must work at: a small phone, a phone, a desk.</summary>
    public static IReadOnlyList<(int Width, int Height)> Sizes { get; } = [(360, 800), (390, 844), (1440, 900)];

    public static async Task<Browser> OpenAsync()
    {
        string chromium = Needs.Program("chromium");
        IPlaywright playwright = await Playwright.CreateAsync();
        IBrowser browser = await playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions { ExecutablePath = chromium, Headless = true, Args = Flags });
        return new Browser(playwright, browser);
    }

    /// <summary>A page of its own context: no cookies of another test.</summary>
    public async Task<IPage> PageAsync((int Width, int Height) size, Uri address)
    {
        IBrowserContext context = await _browser.NewContextAsync(new BrowserNewContextOptions
        {
            BaseURL = address.ToString(),
            ViewportSize = new ViewportSize { Width = size.Width, Height = size.Height },
            HasTouch = size.Width < 800,
            IsMobile = size.Width < 800,
            DeviceScaleFactor = size.Width < 800 ? 2 : 1,
            Locale = "en-GB",
        });
        IPage page = await context.NewPageAsync();
        page.SetDefaultTimeout(20_000);
        return page;
    }

    /// <summary>A page on which somebody has signed in; the owner unless another is named.</summary>
    public async Task<IPage> SignedInAsync((int Width, int Height) size, Uri address, string name = ServiceClient.Owner)
    {
        IPage page = await PageAsync(size, address);
        await page.GotoAsync("/");
        await page.GetByLabel("Your name").FillAsync(name);
        await page.GetByLabel("Your password").FillAsync(ServiceClient.Password);
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Sign in" }).ClickAsync();
        await page.GetByRole(AriaRole.Navigation).WaitForAsync();
        return page;
    }

    /// <summary>Fails when axe finds something serious or critical on the page, naming rule and element.</summary>
    public static async Task HoldAccessibleAsync(IPage page, string what)
    {
        Deque.AxeCore.Commons.AxeResult result = await page.RunAxe();
        string[] found =
        [
            .. result.Violations.Where(violation => violation.Impact is "serious" or "critical")
                .Select(violation => $"{violation.Impact} {violation.Id}: {violation.Help} at {violation.Nodes[0].Target}"),
        ];
        Assert.True(found.Length == 0, $"{what}: {string.Join("; ", found)}");
    }

    /// <summary>Nothing may be wider than the screen: a page that scrolls sideways can't be used with one thumb.</summary>
    public static async Task HoldFittingAsync(IPage page, string what)
    {
        int over = await page.EvaluateAsync<int>("() => document.documentElement.scrollWidth - window.innerWidth");
        Assert.True(over <= 0, $"{what} is {over} px wider than the screen.");
    }

    public static Task PictureAsync(IPage page, string name)
        => page.ScreenshotAsync(new PageScreenshotOptions { Path = Path.Combine(House.Output, name + ".png"), FullPage = true });

    public async ValueTask DisposeAsync()
    {
        await _browser.DisposeAsync();
        _playwright.Dispose();
    }
}
