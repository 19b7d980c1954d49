using System.Globalization;
using Incubation.EndToEnd.Tests.Instruments;
using Microsoft.Playwright;
using Xunit;

namespace Incubation.EndToEnd.Tests.Eggs;

/// <summary>Every page of the clutches on the full demo, at every size, in both lights, and the review on paper.</summary>
public sealed class EggPagesTests(ITestOutputHelper output)
{
    private static readonly TimeSpan UpWithin = TimeSpan.FromSeconds(15);

    // Keys of the demo: about to pip, a Burmese python that was moved, a bad hatch and a good one of the same weeks.
    private const string AboutToPip = "c-06";
    private const string Candled = "c-08";
    private const string Bad = "c-03";
    private const string Good = "c-04";

    [Fact(Timeout = 420_000)]
    public async Task The_full_demo_is_up_in_15_seconds_and_every_page_of_the_clutches_fits_and_is_accessible()
    {
        CancellationToken stop = TestContext.Current.CancellationToken;
        await using Browser browser = await Browser.OpenAsync();
        long started = TimeProvider.System.GetTimestamp();
        await using ServiceProcess demo = await ServiceProcess.StartAsync(new ServiceSetup { Verb = "demo" }, stop);
        TimeSpan ready = TimeProvider.System.GetElapsedTime(started);
        IPage page = await browser.PageAsync((390, 844), demo.Address);
        await page.GotoAsync("/clutches");
        await page.Locator(".clutch-list li").First.WaitForAsync();
        TimeSpan up = TimeProvider.System.GetElapsedTime(started);
        int clutches = await page.Locator(".clutch-list li a[href^='/clutches/']").CountAsync();
        output.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"the demo was ready {ready.TotalSeconds:0.0} s after its process began, its {clutches} clutches on a page after {up.TotalSeconds:0.0} s"));
        Assert.True(clutches >= 8, $"Only {clutches} clutches are listed.");
        await page.Context.CloseAsync();

        // A seeded two of the three sizes, the narrowest among them; the long run takes all.
        foreach ((int width, int height) in Sizes())
        {
            string size = string.Create(CultureInfo.InvariantCulture, $"{width}x{height}");
            page = await browser.PageAsync((width, height), demo.Address);
            await HoldPagesAsync(page, size);
            await HoldNewClutchAsync(page, size);
            await HoldCandlingAsync(page, size);
            await HoldReviewAsync(page, size);
            await page.Context.CloseAsync();
        }

        // Last, so that a machine that is busy with something else does not hide what the pages have to show.
        Assert.True(up <= UpWithin, $"The clutches were on the page after {up.TotalSeconds:0.0} s.");
    }

    private static IEnumerable<(int Width, int Height)> Sizes()
        => Seed.Long ? Browser.Sizes : [Browser.Sizes[Seed.For("egg pages").Next(Browser.Sizes.Count)]];

    private static async Task HoldPagesAsync(IPage page, string size)
    {
        (string Name, string Path)[] pages =
        [
            ("first", "/"), ("first-night", "/first-night"), ("clutches", "/clutches"), ("clutch", $"/clutches/{Candled}"),
            ("clutch-pip", $"/clutches/{AboutToPip}"), ("clutch-finished", $"/clutches/{Good}"), ("move", $"/clutches/{Candled}/move"),
        ];
        foreach ((string name, string path) in pages)
        {
            await page.GotoAsync(path);
            await HoldAsync(page, $"eggs-{name}-{size}");
        }
    }

    /// <summary>All steps of a new clutch, of a large constrictor, so that the cautions are among them; it is not entered.</summary>
    private static async Task HoldNewClutchAsync(IPage page, string size)
    {
        await page.GotoAsync("/clutches/new");
        await HoldAsync(page, $"eggs-new-1-parents-{size}");
        await page.Locator("label.choice", new PageLocatorOptions { HasText = "Python bivittatus" }).ClickAsync();
        await page.GetByLabel("Dam", Exactly).FillAsync("Greta");
        await page.GetByLabel("His name").FillAsync("Oswin");
        await NextAsync(page, "Two people before she is touched.");
        await HoldAsync(page, $"eggs-new-2-pulling-{size}");
        await page.GetByLabel("Who is with you").FillAsync("Jonas");
        await NextAsync(page, "When were they laid, and how many?");
        await page.Locator("label.choice", new PageLocatorOptions { HasText = "the day before" }).ClickAsync();
        await page.GetByLabel("Eggs, slugs counted too").FillAsync("24");
        await HoldAsync(page, $"eggs-new-3-laid-{size}");
        await NextAsync(page, "How warm have they been?");
        await HoldAsync(page, $"eggs-new-4-warmth-{size}");
        await NextAsync(page, "Where do they lie now?");
        await HoldAsync(page, $"eggs-new-5-tub-{size}");
        await page.GetByLabel("What is written on the tub").FillAsync("Tub 40");
        await page.Locator("label.choice", new PageLocatorOptions { HasText = "vermiculite" }).ClickAsync();
        await NextAsync(page, "Is it so?");
        await HoldAsync(page, $"eggs-new-6-check-{size}");
    }

    /// <summary>An egg in hand, in the usual light and in red.</summary>
    private static async Task HoldCandlingAsync(IPage page, string size)
    {
        await page.GotoAsync($"/clutches/{Candled}");
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { NameRegex = new System.Text.RegularExpressions.Regex("^Egg 3,") }).ClickAsync();
        await page.Locator("#egg-in-hand").WaitForAsync();
        await page.Locator(".entries .entry").First.WaitForAsync();
        await page.Locator(".chip").First.ClickAsync();
        await HoldAsync(page, $"eggs-candling-{size}");
        await page.ScreenshotAsync(new PageScreenshotOptions { Path = Path.Combine(House.Output, $"eggs-candling-{size}-screen.png") });
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Red light", Exact = true }).ClickAsync();
        Assert.Equal("red", await page.EvaluateAsync<string>("() => document.documentElement.dataset.light"));
        Assert.Equal(0, await page.Locator(".chip .swatch").CountAsync());
        await HoldAsync(page, $"eggs-candling-red-{size}");
        await HoldRedAsync(page, "candling");
        (string Name, string Path)[] pages =
        [
            ("first", "/"), ("clutches", "/clutches"), ("review", $"/clutches/{Bad}/review"), ("new", "/clutches/new"), ("clutch", $"/clutches/{Candled}"),
        ];
        foreach ((string name, string path) in pages)
        {
            await page.GotoAsync(path);
            await HoldAsync(page, $"eggs-{name}-red-{size}");
            await HoldRedAsync(page, name);
        }

        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Red light is on" }).ClickAsync();
    }

    private static async Task HoldRedAsync(IPage page, string what)
    {
        string[] found = await page.EvaluateAsync<string[]>(ColoursBesideRed);
        Assert.True(found.Length == 0, $"{what} in red light shows: {string.Join("; ", found)}");
    }

    private static async Task HoldReviewAsync(IPage page, string size)
    {
        await page.GotoAsync($"/clutches/{Bad}/review");
        await page.GetByLabel("Hold it against").SelectOptionAsync(Good);
        await page.Locator("table.comparison").WaitForAsync();
        await page.Locator(".review .strip-view, .review svg").First.WaitForAsync();
        await HoldAsync(page, $"eggs-review-{size}");
        Assert.DoesNotContain("caused by", await page.Locator("main").InnerTextAsync(), StringComparison.OrdinalIgnoreCase);
        if (size.StartsWith("1440", StringComparison.Ordinal))
        {
            byte[] paper = await page.PdfAsync(new PagePdfOptions { Format = "A4", Path = Path.Combine(House.Output, "eggs-review.pdf") });
            Assert.True(paper.AsSpan().StartsWith("%PDF-"u8) && paper.Length > 10_000, $"The print has {paper.Length} bytes.");
            await page.EmulateMediaAsync(new PageEmulateMediaOptions { Media = Media.Print });
            await Browser.PictureAsync(page, "eggs-review-print");
            Assert.False(await page.GetByRole(AriaRole.Navigation).IsVisibleAsync(), "The navigation is printed.");
            await page.EmulateMediaAsync(new PageEmulateMediaOptions { Media = Media.Null });
        }
    }

    private static async Task NextAsync(IPage page, string heading)
    {
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Next" }).ClickAsync();
        await page.GetByRole(AriaRole.Heading, new PageGetByRoleOptions { Name = heading }).WaitForAsync();
    }

    private static async Task HoldAsync(IPage page, string what)
    {
        // On a phone the head of a clutch makes room for the egg in hand.
        await page.Locator("h1:visible, #egg-in-hand").First.WaitForAsync();
        // The stream of events never ends, so "network idle" never comes; the last thing drawn is waited for instead.
        await page.WaitForFunctionAsync(
            "() => !document.querySelector('[aria-busy=true]') && document.fonts.status === 'loaded' && !/^(One moment|Asking for|Looking )/.test(document.querySelector('h1').textContent)");
        if (await page.Locator(".clutch-page:not(.at-egg)").CountAsync() > 0)
        {
            await page.GetByRole(AriaRole.Region, new PageGetByRoleOptions { Name = "From laying to pip" }).WaitForAsync();
        }

        await Browser.PictureAsync(page, what);
        await Browser.HoldFittingAsync(page, what);
        await Browser.HoldAccessibleAsync(page, what);
    }

    private static PageGetByLabelOptions Exactly { get; } = new() { Exact = true };

    /// <summary>What is drawn in a colour with more than a little green or blue: it would blind an eye that is used to red light.</summary>
    private const string ColoursBesideRed = """
        () => {
          const found = new Set();
          const canvas = document.createElement('canvas').getContext('2d', { willReadFrequently: true });
          const look = (colour, where) => {
            if (!colour || colour === 'none' || colour.startsWith('url')) return;
            canvas.clearRect(0, 0, 1, 1);
            canvas.fillStyle = colour;
            canvas.fillRect(0, 0, 1, 1);
            const [r, g, b, a] = canvas.getImageData(0, 0, 1, 1).data;
            if (a > 20 && Math.max(g, b) > 70 && Math.max(g, b) > r * 0.45) found.add(`${where}: ${colour}`);
          };
          for (const element of document.querySelectorAll('body, body *')) {
            if (element.getClientRects().length === 0) continue;
            const style = getComputedStyle(element);
            if (style.visibility === 'hidden' || style.opacity === '0') continue;
            const where = `${element.tagName} .${element.getAttribute('class') ?? ''}`;
            look(style.backgroundColor, where);
            const inSvg = element instanceof SVGElement;
            if (!inSvg) look(style.color, where);
            if (inSvg) { look(style.fill, where); if (style.strokeWidth !== '0px') look(style.stroke, where); }
          }
          return [...found].slice(0, 12);
        }
        """;
}
