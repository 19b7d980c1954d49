using System.Globalization;
using System.Text.Json.Nodes;
using Incubation.EndToEnd.Tests.Instruments;
using Microsoft.Data.Sqlite;
using Microsoft.Playwright;
using Xunit;

namespace Incubation.EndToEnd.Tests.BadInput;

/// <summary>Two people at two phones with the same egg in hand.</summary>
public sealed class TwoPeopleTests
{
    private const string Second = "Jonas";

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact(Timeout = 120_000)]
    public async Task Two_people_who_save_the_same_egg_are_both_kept_and_both_shown()
    {
        CancellationToken stop = TestContext.Current.CancellationToken;
        ServiceSetup setup = new();
        await ClaimForTwoAsync(setup, stop);
        await using ServiceProcess service = await ServiceProcess.StartAsync(setup, stop);
        using ServiceClient owner = new(service.Address);
        await owner.SignInAsync(stop);
        string key = (string)(await owner.SendAsync(HttpMethod.Post, "/api/clutches", Clutch(), stop))["key"]!;

        await using Browser browser = await Browser.OpenAsync();
        IPage hers = await browser.SignedInAsync((390, 844), service.Address);
        IPage his = await browser.SignedInAsync((390, 844), service.Address, Second);
        // Both have the egg open before either saves it.
        await OpenEggAsync(hers, key);
        await OpenEggAsync(his, key);
        await ChooseAsync(hers, "pink");
        await ChooseAsync(his, "yellow");
        await SaveAsync(hers);
        await SaveAsync(his);

        JsonNode[] entries = await Waiting.ForAsync(async () => (await owner.GetAsync($"/api/clutches/{key}/candlings?egg=1", stop)).AsArray() is { Count: 2 } both
            ? both.Select(entry => entry!).ToArray() : null, TimeSpan.FromSeconds(10), "both entries", stop);
        Assert.Equal([(ServiceClient.Owner, "pink"), (Second, "yellow")],
            entries.Select(entry => ((string)entry["by"]!, (string)entry["tint"]!)).Order());
        Assert.Equal(2, (int)(await owner.GetAsync($"/api/clutches/{key}", stop))["eggs"]![0]!["entries"]!);

        foreach (IPage page in (IPage[])[hers, his])
        {
            await OpenEggAsync(page, key);
            await Assertions.Expect(page.Locator(".entry")).ToHaveCountAsync(2);
            await Assertions.Expect(page.GetByText("saw it differently on the same day. Both are kept.")).ToBeVisibleAsync();
        }

        await Browser.PictureAsync(his, "two-people-390");
        await Browser.HoldAccessibleAsync(his, "two people");
        await Browser.HoldFittingAsync(his, "two people");
    }

    [Fact]
    public async Task The_same_entry_sent_twice_is_one_and_another_body_under_its_id_is_refused()
    {
        await using ServiceProcess service = await ServiceProcess.StartAsync(new ServiceSetup(), Stop);
        using ServiceClient owner = await ServiceClient.ClaimAsync(service, Stop);
        string key = (string)(await owner.SendAsync(HttpMethod.Post, "/api/clutches", Clutch(), Stop))["key"]!;
        string path = $"/api/clutches/{key}/candlings/{Guid.CreateVersion7()}";
        JsonObject look = new() { ["egg"] = 1, ["tint"] = "pink", ["at"] = Time(0) };
        Assert.Equal(201, (int)(await owner.TryAsync(HttpMethod.Put, path, look, Stop)).Status);
        Assert.Equal(200, (int)(await owner.TryAsync(HttpMethod.Put, path, look, Stop)).Status);
        look["tint"] = "yellow";
        Assert.Equal(409, (int)(await owner.TryAsync(HttpMethod.Put, path, look, Stop)).Status);
        Assert.Equal("pink", (string?)Assert.Single((await owner.GetAsync($"/api/clutches/{key}/candlings?egg=1", Stop)).AsArray())!["tint"]);
    }

    /// <summary>
    /// The service has no way yet to let a second person in, so one is written into its records while it is down: the owner's row once
    /// more, under another name. From there on everything goes the way it goes for anybody.
    /// </summary>
    private static async Task ClaimForTwoAsync(ServiceSetup setup, CancellationToken stop)
    {
        await using (ServiceProcess service = await ServiceProcess.StartAsync(setup, stop))
        {
            using ServiceClient owner = await ServiceClient.ClaimAsync(service, stop);
            Assert.Equal(0, await service.TerminateAsync(stop));
        }

        await using SqliteConnection records = new(new SqliteConnectionStringBuilder
        {
            DataSource = Path.Combine(setup.Data, "records.db"),
            Mode = SqliteOpenMode.ReadWrite,
            Pooling = false,
        }.ToString());
        await records.OpenAsync(stop);
        await using SqliteCommand insert = records.CreateCommand();
        insert.CommandText = """
            INSERT INTO person (Id, Name, Role, PasswordHash, SecurityStamp, CreatedAt)
            SELECT $id, $name, 'keeper', PasswordHash, $stamp, CreatedAt FROM person
            """;
        insert.Parameters.AddWithValue("$id", Guid.CreateVersion7().ToString().ToUpperInvariant());
        insert.Parameters.AddWithValue("$name", Second);
        insert.Parameters.AddWithValue("$stamp", Guid.NewGuid().ToString("N"));
        Assert.Equal(1, await insert.ExecuteNonQueryAsync(stop));
    }

    private static async Task OpenEggAsync(IPage page, string key)
    {
        await page.GotoAsync($"/clutches/{key}");
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { NameRegex = new System.Text.RegularExpressions.Regex("^Egg 1,") }).TapAsync();
        await page.Locator("#egg-in-hand").WaitForAsync();
    }

    private static Task ChooseAsync(IPage page, string tint)
        => page.GetByRole(AriaRole.Group, new PageGetByRoleOptions { Name = "Tint", Exact = true })
            .GetByRole(AriaRole.Button, new LocatorGetByRoleOptions { Name = tint, Exact = true }).TapAsync();

    private static Task SaveAsync(IPage page)
        => page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Save and stop", Exact = true }).TapAsync();

    private static JsonObject Clutch() => new()
    {
        ["species"] = "python-regius",
        ["dam"] = "Juno",
        ["layDate"] = Time(-9)[..10],
        ["eggCount"] = 2,
    };

    private static string Time(double days) => TimeProvider.System.GetUtcNow().AddDays(days).ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);
}
