using System.Net;
using System.Text.Json;
using Incubation.Core.Genetics;
using Incubation.Service.Clutches;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace Incubation.Service.Tests.Clutches;

public sealed class OutcomeTests
{
    private const string At = "2026-11-25T02:00:00Z";

    [Fact]
    public async Task A_pip_and_a_hatchling_make_the_clutch_hatching_and_the_egg_hatched()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        await room.ClutchAsync(new { layDate = "2026-09-26" });

        Answer pip = await PutAsync(room, Guid.CreateVersion7(), new { egg = 2, kind = "first pip", at = At });
        Assert.Equal("pipped", pip.Is(HttpStatusCode.Created).Body.GetProperty("eggNow").GetProperty("status").GetString());
        await PutAsync(room, Guid.CreateVersion7(), new { egg = 2, kind = "out", at = "2026-11-25T02:50:00Z" });

        JsonElement page = await room.GetAsync("/api/clutches/c-01");
        Assert.Equal("hatching", page.GetProperty("clutch").GetProperty("state").GetString());
        Assert.Equal("C-01, day 60: 1 of 6 eggs hatched, 5 have not been looked at.", page.GetProperty("sentence").GetString());
        JsonElement egg = page.GetProperty("eggs")[1];
        Assert.Equal(("hatched", "out"), (egg.GetProperty("status").GetString(), egg.GetProperty("outcome").GetProperty("kind").GetString()));
        Assert.Contains((await room.GetAsync("/api/now")).GetProperty("toDo").EnumerateArray(), t => t.GetProperty("what").GetString()!.StartsWith("C-01 is hatching", StringComparison.Ordinal));
    }

    [Fact]
    public async Task The_same_outcome_again_changes_nothing_and_another_under_its_id_is_refused()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        await room.ClutchAsync();
        var id = Guid.CreateVersion7();
        var body = new { egg = 3, kind = "slug", at = "2026-11-25T02:00:00.1234567Z", note = "yellow <b>" };

        (await PutAsync(room, id, body)).Is(HttpStatusCode.Created);
        (await PutAsync(room, id, body)).Is(HttpStatusCode.OK);
        (await PutAsync(room, id, new { egg = 3, kind = "dead in egg", at = At })).Is(HttpStatusCode.Conflict);

        Assert.Equal("slug", Assert.Single((await room.GetAsync("/api/clutches/c-01/outcomes")).EnumerateArray()).GetProperty("kind").GetString());
    }

    [Fact]
    public async Task A_correction_supersedes_and_both_stay_readable()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        await room.ClutchAsync();
        Guid wrong = Guid.CreateVersion7(), right = Guid.CreateVersion7();
        await PutAsync(room, wrong, new { egg = 3, kind = "dead in egg", at = At });

        Answer odd = await PutAsync(room, Guid.CreateVersion7(), new { egg = 3, kind = "slug", at = At });
        Assert.Contains(odd.Is(HttpStatusCode.Created).Said, s => s.Contains("on record as dead in egg too, by Ada", StringComparison.Ordinal));
        (await PutAsync(room, right, new { egg = 3, kind = "out", at = At, supersedes = wrong })).Is(HttpStatusCode.Created);
        (await PutAsync(room, Guid.CreateVersion7(), new { egg = 4, kind = "out", at = At, supersedes = wrong })).Refuses("supersedes");
        (await PutAsync(room, Guid.CreateVersion7(), new { egg = 4, kind = "born", at = At })).Refuses("kind", "first pip, out, dead in egg, slug");
        (await PutAsync(room, Guid.CreateVersion7(), new { egg = 44, kind = "out", at = At })).Refuses("egg", "There is no egg 44");

        JsonElement[] all = [.. (await room.GetAsync("/api/clutches/c-01/outcomes?egg=3")).EnumerateArray()];
        Assert.Equal(3, all.Length);
        Assert.Equal(right, all.Single(o => o.GetProperty("id").GetGuid() == wrong).GetProperty("supersededBy")[0].GetGuid());
    }

    [Fact]
    public async Task A_trait_seen_on_the_young_must_be_on_record_and_said_whole()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        await room.ClutchAsync();
        (await PutAsync(room, Guid.CreateVersion7(), new { egg = 1, kind = "out", at = At, trait = "ember", traitSeen = "one copy" })).Refuses("trait", "enter the trait first");
        (await PutAsync(room, Guid.CreateVersion7(), new { egg = 1, kind = "out", at = At, trait = "ember" })).Refuses("traitSeen", "go together");
        (await PutAsync(room, Guid.CreateVersion7(), new { egg = 1, kind = "out", at = At, trait = "ember", traitSeen = "three" })).Refuses("traitSeen", "carries");
        await using (RecordsContext records = await room.Services.GetRequiredService<IDbContextFactory<RecordsContext>>().CreateDbContextAsync(TestContext.Current.CancellationToken))
        {
            records.Traits.Add(new TraitRecord { Key = "ember", Name = "Ember", Inheritance = "incomplete dominant", CarrierTints = "greenish", By = "Ada" });
            await records.SaveChangesAsync(TestContext.Current.CancellationToken);
        }

        (await PutAsync(room, Guid.CreateVersion7(), new { egg = 1, kind = "out", at = At, trait = "ember", traitSeen = "carries" })).Is(HttpStatusCode.Created);

        BookedOutcome booked = Assert.Single(room.Services.GetRequiredService<ClutchBook>().Find("c-01")!.Outcomes);
        Assert.Equal(("carries", TraitSeen.Carries), (booked.TraitSeen, booked.Outcome.TraitSeen));
    }

    private static Task<Answer> PutAsync(EggRoom room, Guid id, object body) => room.PutAsync($"/api/clutches/c-01/outcomes/{id}", body);
}
