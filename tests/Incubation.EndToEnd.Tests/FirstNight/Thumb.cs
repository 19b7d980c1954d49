using System.Globalization;
using Microsoft.Playwright;

namespace Incubation.EndToEnd.Tests.FirstNight;

/// <summary>
/// One thumb on a phone: touches and typing, nothing else. Counts every touch (one to get into a field too), every field typed into,
/// and every swipe that was needed to bring the next thing onto the screen.
/// </summary>
internal sealed class Thumb(IPage page, int height, Action<string> say)
{
    // A phone's screen is swiped by about two thirds of its height at a time.
    private readonly double _swipe = height * 2 / 3.0;
    private readonly long _begun = TimeProvider.System.GetTimestamp();

    public IPage Page => page;

    public int Taps { get; private set; }

    public int Fields { get; private set; }

    public int Swipes { get; private set; }

    /// <summary>The smallest thing that was touched, px, and what it was.</summary>
    public (double Size, string What) Smallest { get; private set; } = (double.MaxValue, "");

    public Task PressAsync(string button) => TapAsync(page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = button, Exact = true }), button);

    public Task FollowAsync(string link) => TapAsync(page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = link, Exact = true }).First, link);

    /// <summary>One of a few, by the word on it.</summary>
    public Task ChooseAsync(string word) => TapAsync(page.Locator("label.choice").Filter(new LocatorFilterOptions { HasText = word }).First, word);

    /// <summary>A chip of the candling panel, by the legend above it.</summary>
    public Task ChipAsync(string legend, string word)
        => TapAsync(page.GetByRole(AriaRole.Group, new PageGetByRoleOptions { Name = legend, Exact = true })
            .GetByRole(AriaRole.Button, new LocatorGetByRoleOptions { Name = word, Exact = true }), $"{legend}: {word}");

    public async Task TapAsync(ILocator what, string words)
    {
        await ReachAsync(what, words);
        await what.TapAsync();
        Taps++;
        Say($"tap   {words}");
    }

    public async Task TypeAsync(string label, string text, bool secret = false)
    {
        ILocator field = page.GetByLabel(label, new PageGetByLabelOptions { Exact = true });
        await ReachAsync(field, label);
        await field.TapAsync();
        Taps++;
        // A day of the calendar comes from the phone's own wheel, which no script can turn: it counts as a field.
        if (await field.GetAttributeAsync("type") is "date" or "time")
        {
            await field.FillAsync(text);
        }
        else
        {
            await page.Keyboard.TypeAsync(text);
        }

        Fields++;
        Say($"type  {label}: {(secret ? "…" : text)}");
    }

    /// <summary>The page asks or says this now.</summary>
    public async Task SeesAsync(string heading)
    {
        await Assertions.Expect(page.GetByRole(AriaRole.Heading, new PageGetByRoleOptions { Name = heading })).ToBeVisibleAsync();
        Say($"      {heading}");
    }

    /// <summary>Something that happens beside the phone.</summary>
    public void Beside(string words) => Say($"      ({words})");

    public string Sum => string.Create(CultureInfo.InvariantCulture, $"{Taps} taps, {Fields} fields typed, {Swipes} swipes");

    private async Task ReachAsync(ILocator what, string words)
    {
        await what.WaitForAsync();
        if (await what.BoundingBoxAsync() is { } box)
        {
            double outside = box.Y < 0 ? -box.Y : Math.Max(0, box.Y + box.Height - height);
            Swipes += (int)Math.Ceiling(outside / _swipe);
            double size = Math.Min(box.Width, box.Height);
            if (size < Smallest.Size)
            {
                Smallest = (size, words);
            }
        }
    }

    private void Say(string line)
    {
        double seconds = TimeProvider.System.GetElapsedTime(_begun).TotalSeconds;
        say(string.Create(CultureInfo.InvariantCulture, $"{seconds,5:0.0} s  {Taps,3} taps {Fields,2} fields  {line}"));
    }
}
