using System.Net;
using System.Text.Json;
using CsCheck;
using Incubation.Service.Candling;
using Incubation.Service.Clutches;
using Incubation.Service.Tests.Clutches;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace Incubation.Service.Tests.Candling;

public sealed class CandlingTests
{
    private const string At = "2026-11-25T02:00:00Z";

    [Fact]
    public async Task A_look_gives_the_egg_its_status_with_the_entry_it_rests_on_and_its_tint()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        await room.ClutchAsync(new { layDate = "2026-11-15" });
        var id = Guid.CreateVersion7();

        Answer put = (await PutAsync(room, id, new
        {
            egg = 2,
            tint = "greenish",
            veins = "full net",
            movementSeen = true,
            shell = new[] { "dented" },
            looksLikeSlug = "no",
            massGrams = 82.5,
            note = "<i>lively</i> 🥚",
            at = At,
        })).Is(HttpStatusCode.Created);

        Assert.Equal(("Ada", "greenish"), (put.Text("by"), put.Text("tintWord")));
        JsonElement page = await room.GetAsync("/api/clutches/c-01");
        JsonElement egg = page.GetProperty("eggs")[1];
        Assert.Equal(egg.GetRawText(), put.Body.GetProperty("eggNow").GetRawText());
        Assert.Equal(("developing", "Movement was seen at the last look: alive, whatever was thought before."), (egg.GetProperty("status").GetString(), egg.GetProperty("statusWords").GetString()));
        Assert.Equal(id, Assert.Single(egg.GetProperty("restsOn").EnumerateArray()).GetGuid());
        Assert.Equal(("greenish", "#a3b86c", "full net", "no", 82.5, 1),
            (egg.GetProperty("tint").GetString(), egg.GetProperty("colour").GetString(), egg.GetProperty("veins").GetString(), egg.GetProperty("looksLikeSlug").GetString(), egg.GetProperty("massGrams").GetDouble(), egg.GetProperty("entries").GetInt32()));
        Assert.Equal("C-01, day 10: 1 of 6 eggs is alive, 5 have not been looked at.", page.GetProperty("sentence").GetString());
        JsonElement entry = Assert.Single((await room.GetAsync("/api/clutches/c-01/candlings?egg=2")).EnumerateArray());
        Assert.Equal(("<i>lively</i> 🥚", "dented"), (entry.GetProperty("note").GetString(), entry.GetProperty("shell")[0].GetString()));
    }

    [Fact]
    public async Task The_same_entry_again_changes_nothing_and_another_under_its_id_is_refused()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        await room.ClutchAsync();
        var id = Guid.CreateVersion7();
        var body = new { egg = 1, veins = "spot", massGrams = 80.123456789, shell = new[] { "window", "dented" }, note = "first\r\nlook", at = "2026-11-25T03:00:00.9876543+01:00" };

        (await PutAsync(room, id, body)).Is(HttpStatusCode.Created);
        room.Time.Advance(TimeSpan.FromHours(1));
        await room.Services.GetRequiredService<ClutchBook>().LoadAsync(TestContext.Current.CancellationToken);
        (await PutAsync(room, id, body)).Is(HttpStatusCode.OK);
        (await PutAsync(room, id, new { egg = 1, veins = "ring", at = At })).Is(HttpStatusCode.Conflict);
        await room.ClutchAsync();
        (await room.PutAsync($"/api/clutches/c-02/candlings/{id}", body)).Is(HttpStatusCode.Conflict);

        JsonElement kept = Assert.Single((await room.GetAsync("/api/clutches/c-01/candlings")).EnumerateArray());
        Assert.Equal(("spot", "2026-11-25T03:00:00Z"), (kept.GetProperty("veins").GetString(), kept.GetProperty("enteredAt").GetString()));
    }

    [Fact]
    public async Task An_entry_that_is_sent_again_by_the_next_person_on_the_same_phone_stays_the_first_persons()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        await room.ClutchAsync();
        var id = Guid.CreateVersion7();
        CandlingDesk desk = room.Services.GetRequiredService<CandlingDesk>();
        var request = new CandlingRequest(1, null, "spot", null, null, null, null, null, At, null);

        Assert.Equal(Appending.Added, (await desk.PutAsync("c-01", id, request, "Mara", TestContext.Current.CancellationToken)).What);
        (await PutAsync(room, id, new { egg = 1, veins = "spot", at = At })).Is(HttpStatusCode.OK);

        Assert.Equal("Mara", Assert.Single((await room.GetAsync("/api/clutches/c-01/candlings")).EnumerateArray()).GetProperty("by").GetString());
    }

    [Fact]
    public async Task Two_people_who_save_the_same_egg_at_once_are_both_kept_also_when_they_correct_the_same_entry()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        await room.ClutchAsync();
        Guid first = Guid.CreateVersion7(), ada = Guid.CreateVersion7(), mara = Guid.CreateVersion7();
        await PutAsync(room, first, new { egg = 1, veins = "none", at = At });
        CandlingDesk desk = room.Services.GetRequiredService<CandlingDesk>();

        Task<Appended> other = desk.PutAsync(
            "c-01", mara, new CandlingRequest(1, "peach", "fading", null, null, null, null, null, At, first), "Mara", TestContext.Current.CancellationToken);
        (await PutAsync(room, ada, new { egg = 1, tint = "pink", veins = "spot", at = At, supersedes = first })).Is(HttpStatusCode.Created);
        Assert.Equal(Appending.Added, (await other).What);

        JsonElement[] all = [.. (await room.GetAsync("/api/clutches/c-01/candlings?egg=1")).EnumerateArray()];
        Assert.Equal(3, all.Length);
        Assert.Equal(new[] { ada, mara }.Order(), all.Single(e => e.GetProperty("id").GetGuid() == first).GetProperty("supersededBy").EnumerateArray().Select(i => i.GetGuid()).Order());
        Assert.Equal(["Ada", "Mara"], all.Where(e => e.GetProperty("id").GetGuid() != first).Select(e => e.GetProperty("by").GetString()).Order());
    }

    [Fact]
    public async Task A_correction_may_come_first_and_never_crosses_eggs_or_closes_a_circle()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        await room.ClutchAsync();
        await room.ClutchAsync();
        Guid wrong = Guid.CreateVersion7(), right = Guid.CreateVersion7();

        (await PutAsync(room, right, new { egg = 1, veins = "spot", at = At, supersedes = wrong })).Is(HttpStatusCode.Created);
        (await PutAsync(room, wrong, new { egg = 2, veins = "none", at = At })).Refuses("supersedes", "same egg");
        (await PutAsync(room, wrong, new { egg = 1, veins = "none", at = At, supersedes = right })).Refuses("supersedes", "circle");
        (await PutAsync(room, wrong, new { egg = 1, veins = "none", at = At })).Is(HttpStatusCode.Created);
        (await PutAsync(room, Guid.CreateVersion7(), new { egg = 2, veins = "none", at = At, supersedes = wrong })).Refuses("supersedes");
        (await room.PutAsync($"/api/clutches/c-02/candlings/{Guid.CreateVersion7()}", new { egg = 1, veins = "none", at = At, supersedes = wrong })).Refuses("supersedes");
        var self = Guid.CreateVersion7();
        (await PutAsync(room, self, new { egg = 2, veins = "none", at = At, supersedes = self })).Refuses("supersedes");

        Assert.Equal("developing", (await room.GetAsync("/api/clutches/c-01")).GetProperty("eggs")[0].GetProperty("status").GetString());
    }

    [Theory]
    [InlineData("egg", 17, "There is no egg 17")]
    [InlineData("egg", null, "The number of the egg")]
    [InlineData("tint", "ultraviolet", "One of pink")]
    [InlineData("veins", "lots", "full net")]
    [InlineData("looksLikeSlug", "maybe", "unsure")]
    [InlineData("massGrams", -1, "more than 0")]
    [InlineData("at", "this morning", "A time such as")]
    [InlineData("at", null, "must not be left out")]
    [InlineData("supersedes", "the other one", "")]
    [InlineData("movementSeen", "yes", "")]
    public async Task What_cannot_be_is_refused_with_the_field_and_what_is_allowed(string field, object? value, string words)
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        await room.ClutchAsync();
        var body = new Dictionary<string, object?> { ["egg"] = 1, ["veins"] = "spot", ["at"] = At, [field] = value };
        (await PutAsync(room, Guid.CreateVersion7(), body)).Refuses(field, words);
        Assert.Empty((await room.GetAsync("/api/clutches/c-01/candlings")).EnumerateArray());
    }

    [Fact]
    public async Task Nothing_entered_unknown_or_doubled_shell_terms_and_an_id_of_zeros_are_refused()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        await room.ClutchAsync();
        (await PutAsync(room, Guid.CreateVersion7(), new { egg = 1, at = At })).Refuses("egg", "Nothing is entered");
        (await PutAsync(room, Guid.CreateVersion7(), new { egg = 1, at = At, shell = new[] { "dented", "purple" } })).Refuses("shell", "dented, sweating");
        (await PutAsync(room, Guid.CreateVersion7(), new { egg = 1, at = At, shell = new string?[] { null } })).Refuses("shell");
        (await PutAsync(room, Guid.CreateVersion7(), new { egg = 1, at = At, shell = new[] { "dented", "dented" } })).Refuses("shell", "each once");
        (await PutAsync(room, Guid.Empty, new { egg = 1, at = At, veins = "spot" })).Refuses("id");
        (await room.PutAsync($"/api/clutches/none/candlings/{Guid.CreateVersion7()}", new { egg = 1, at = At, veins = "spot" })).Is(HttpStatusCode.NotFound);
        (await room.PutAsync("/api/clutches/c-01/candlings/not-an-id", new { egg = 1, at = At, veins = "spot" })).Is(HttpStatusCode.NotFound);
    }

    [Theory]
    [InlineData("2031-01-01T00:00:00Z", "still to come")]
    [InlineData("2020-01-01T00:00:00Z", "before the eggs were laid")]
    public async Task A_wrong_clock_on_the_phone_loses_no_entry_and_does_not_hide_that_the_eggs_want_looking_at(string at, string words)
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        await room.ClutchAsync(new { layDate = "2026-11-05" });
        Answer put = (await PutAsync(room, Guid.CreateVersion7(), new { egg = 1, veins = "spot", at })).Is(HttpStatusCode.Created);
        Assert.Contains(put.Said, s => s.Contains(words, StringComparison.Ordinal));

        room.Time.Advance(TimeSpan.FromDays(3));
        Assert.Contains((await room.GetAsync("/api/now")).GetProperty("toDo").EnumerateArray(), t => t.GetProperty("what").GetString()!.StartsWith("Candle C-01 (day 23", StringComparison.Ordinal));
    }

    [Fact]
    public async Task The_next_look_follows_the_days_of_the_trade()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        await room.ClutchAsync(new { tub = new { name = "Tub 1", substrate = "perlite", incubator = await room.IncubatorAsync("Hazel") } });
        await PutAsync(room, Guid.CreateVersion7(), new { egg = 1, veins = "spot", at = At });
        Assert.StartsWith("Candle next on day 7, 2 December.", (await room.GetAsync("/api/clutches/c-01")).GetProperty("next").GetString(), StringComparison.Ordinal);
        Assert.DoesNotContain((await room.GetAsync("/api/now")).GetProperty("toDo").EnumerateArray(), t => t.GetProperty("what").GetString()!.StartsWith("Candle", StringComparison.Ordinal));

        room.Time.Advance(TimeSpan.FromDays(8));
        Assert.Contains((await room.GetAsync("/api/now")).GetProperty("toDo").EnumerateArray(),
            t => (t.GetProperty("what").GetString(), t.GetProperty("when").GetString(), t.GetProperty("href").GetString()) == ("Candle C-01 (day 8; there is time until day 10).", "today", "/clutches/c-01"));
    }

    /// <summary>Law: whatever the order, the number of senders at once and the repeats, every entry is on record once and the eggs stand the same.</summary>
    [Fact]
    public async Task Any_interleaving_of_puts_gives_the_same_log()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        int clutch = 0;
        string[] veins = ["none", "spot", "full net", "ring", "fading"];
        await Gen.Select(Gen.Int[1, 3], Gen.Int[0, 4].Select(i => veins[i]), Gen.Bool, Gen.Int[0, 600]).Array[2, 8].SampleAsync(
            async looks =>
            {
                string[] keys = [await NewClutchAsync(), await NewClutchAsync()];
                (Guid Id, object Body)[] sent = [.. looks.Select((l, i) => (Guid.CreateVersion7(), (object)new
                {
                    egg = l.Item1,
                    veins = l.Item2,
                    movementSeen = l.Item3,
                    at = $"2026-11-25T02:{l.Item4 / 60:00}:{l.Item4 % 60:00}Z",
                    note = $"{i}",
                }))];
                foreach ((Guid id, object body) in sent)
                {
                    (await room.PutAsync($"/api/clutches/{keys[0]}/candlings/{id}", body)).Is(HttpStatusCode.Created);
                }

                // The other way round, twice each, all at once, under ids of their own.
                Guid[] other = [.. sent.Select(_ => Guid.CreateVersion7())];
                Answer[] answers = await Task.WhenAll(sent.Reverse().Concat(sent)
                    .Select(s => room.PutAsync($"/api/clutches/{keys[1]}/candlings/{other[Array.IndexOf(sent, s)]}", s.Body)));

                Assert.Equal(sent.Length, answers.Count(a => a.Status == HttpStatusCode.Created));
                Assert.Equal(sent.Length, answers.Count(a => a.Status == HttpStatusCode.OK));
                ClutchBook book = room.Services.GetRequiredService<ClutchBook>();
                // Two looks at one egg in the same second have no order of their own but that of their arrival and id.
                if (looks.Select(l => (l.Item1, l.Item4)).Distinct().Count() == looks.Length)
                {
                    Assert.Equal(
                        book.Find(keys[0])!.Eggs.Select(e => (e.Place.Number, e.Status.Rule.Number, e.Looks.Length)),
                        book.Find(keys[1])!.Eggs.Select(e => (e.Place.Number, e.Status.Rule.Number, e.Looks.Length)));
                }
            }, iter: 12, threads: 1);

        async Task<string> NewClutchAsync() => (await room.ClutchAsync(new { label = $"L{++clutch}", eggCount = 3 })).Is(HttpStatusCode.Created).Text("key")!;
    }

    [Fact]
    public async Task The_words_and_the_rules_are_there_to_be_read()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        JsonElement words = await room.GetAsync("/api/candling-words");
        Assert.Equal(["none", "spot", "spreading", "full net", "fading", "ring"], words.GetProperty("veins").EnumerateArray().Select(v => v.GetString()));
        Assert.Equal(16, words.GetProperty("rules").GetArrayLength());
    }

    private static Task<Answer> PutAsync(EggRoom room, Guid id, object body) => room.PutAsync($"/api/clutches/c-01/candlings/{id}", body);
}
