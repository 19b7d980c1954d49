using System.Globalization;
using System.Text;
using Incubation.EndToEnd.Tests.Instruments;
using Microsoft.Playwright;
using Xunit;

namespace Incubation.EndToEnd.Tests.Import;

/// <summary>A file is brought in by a person in a real browser: looked over, tried out, names said, brought in; at a seeded size, in both lights.</summary>
public sealed class ImportPageTests
{
    [Fact(Timeout = 300_000)]
    public async Task A_person_is_asked_for_what_cannot_be_told_and_brings_a_file_in()
    {
        CancellationToken stop = TestContext.Current.CancellationToken;
        await using Browser browser = await Browser.OpenAsync();
        ServiceSetup setup = new() { Settings = { ["Incubation__Facility__Zone"] = "Europe/Lisbon" } };
        await using ServiceProcess service = await ServiceProcess.StartAsync(setup, stop);
        using ServiceClient client = await ServiceClient.ClaimAsync(service, stop);
        foreach ((int width, int height) in Seed.Long ? Browser.Sizes : [Browser.Sizes[Seed.For("import page").Next(Browser.Sizes.Count)]])
        {
            string size = string.Create(CultureInfo.InvariantCulture, $"{width}x{height}");
            IPage page = await browser.SignedInAsync((width, height), service.Address);
            await page.GotoAsync("/keeping");
            await page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = "Bring in readings from a file" }).ClickAsync();
            await HoldAsync(page, "Bring in readings from a file.", $"import-1-choose-{size}");

            await page.Locator("input[type=file]").SetInputFilesAsync(new FilePayload { Name = $"egg room {size}.csv", MimeType = "text/csv", Buffer = File(size) });
            await HoldAsync(page, "Something in the file can’t be told. Please say it.", $"import-2-columns-{size}");
            await page.Locator("label.choice", new PageLocatorOptions { HasText = "day first" }).ClickAsync();
            await PressAsync(page, "That is right");
            await HoldAsync(page, "Ready to be tried out.", $"import-3-ready-{size}");

            await PressAsync(page, "Try it out");
            await HoldAsync(page, "Not one line could be taken.", $"import-4-names-{size}");
            await page.GetByLabel("It is").Nth(0).SelectOptionAsync(new SelectOptionValue { Label = "A new probe…" });
            await page.GetByLabel("Its name in topics").FillAsync("shelf-" + size);
            await page.GetByLabel("It is").Nth(1).SelectOptionAsync(new SelectOptionValue { Label = "Leave these readings out" });
            await PressAsync(page, "Keep these names");
            await PressAsync(page, "Try it out");
            await HoldAsync(page, "400 readings can be taken, 108 can’t.", $"import-5-tried-{size}");

            await PressAsync(page, "Bring them in");
            await HoldAsync(page, "400 readings are in the history.", $"import-6-done-{size}");
            await page.GotoAsync("/readings/import");
            await HoldAsync(page, "Bring in readings from a file.", $"import-7-list-{size}");
            await page.Context.CloseAsync();
        }
    }

    // Days and months that fit both ways, two names, letters of Windows-1252, and a few lines that are wrong.
    private static byte[] File(string size)
    {
        StringBuilder text = new("Zeitpunkt;Fühler;Temp. °C;Feuchte %RH;Notiz\r\n");
        for (int i = 0; i < 200; i++)
        {
            string time = string.Create(CultureInfo.InvariantCulture, $"04/09/2026 {10 + (i / 60)}:{i % 60:00}");
            text.Append(CultureInfo.InvariantCulture, $"{time};Regal oben {size};31,{i % 10};81,{i % 7};{(i == 40 ? "\"Deckel auf;\r\nlüften\"" : "")}\r\n");
            text.Append(i % 2 == 0 ? $"{time};Regal unten;31,0;;\r\n" : "");
            text.Append(i % 50 == 0 ? $"{time};Regal oben {size};---;!!!;=1+1\r\n" : "");
        }

        return Encoding.Latin1.GetBytes(text.ToString());
    }

    private static async Task HoldAsync(IPage page, string sentence, string name)
    {
        await page.GetByRole(AriaRole.Heading, new PageGetByRoleOptions { Name = sentence, Level = 1 }).WaitForAsync();
        await Browser.HoldFittingAsync(page, name);
        await Browser.HoldAccessibleAsync(page, name);
        await Browser.PictureAsync(page, name);
        await page.EvaluateAsync("() => { document.documentElement.dataset.light = 'red'; }");
        await Browser.HoldAccessibleAsync(page, name + " in red light");
        await Browser.PictureAsync(page, name + "-red");
        await page.EvaluateAsync("() => { delete document.documentElement.dataset.light; }");
    }

    private static Task PressAsync(IPage page, string name)
        => page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = name, Exact = true }).ClickAsync();
}
