using System.Net;
using System.Text;
using System.Text.Json;
using Incubation.Core.Readings;
using Incubation.Service.Probes;
using Incubation.Service.Readings;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using Xunit;

namespace Incubation.Service.Tests.Readings;

/// <summary>Files of readings: sent, looked over, tried, brought in.</summary>
public sealed class ImportTests
{
    private static readonly SeriesKey Hazel = new("hazel-air", Quantity.Temperature);

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task What_one_service_exports_another_brings_in_as_the_same_history()
    {
        await using IntakeHost from = await IntakeHost.StartAsync(), into = await IntakeHost.StartAsync();
        Reading[] readings =
        [
            .. Enumerable.Range(0, 5_000).Select(i => new Reading(
                i % 3 == 0 ? new SeriesKey("hazel-air", Quantity.Humidity) : Hazel, i % 3 == 0 ? 80 + i % 25 : 30 + Math.Sin(i), ImportRoom.Start + Duration.FromSeconds(61 * i),
                ImportRoom.Start + Duration.FromSeconds(61 * i), i % 3 == 0 && i % 25 >= 20 ? ReadingMarks.Saturated : i % 50 == 1 ? ReadingMarks.ClockOff : i % 71 == 1 ? ReadingMarks.Retained : ReadingMarks.None)),
        ];
        await from.Services.GetRequiredService<IReadingStore>().StoreAsync(readings, Token);
        from.Services.GetRequiredService<Corrections>().Become(new Dictionary<SeriesKey, Correction> { [Hazel] = new([new(ImportRoom.Start, 1, 0.5)]) });
        string file = await from.Http.GetStringAsync("/api/readings/export?probe=hazel-air&from=2026-11-01T00:00:00Z&to=2026-12-01T00:00:00Z", Token);

        JsonElement done = await into.BringInAsync(file, ("hazel-air", "hazel-air"));

        Assert.Equal(("done", 5_000, 0), (done.GetProperty("state").GetString(), done.Number("run", "taken"), done.Number("run", "refused")));
        Assert.False(done.GetProperty("fileIsHere").GetBoolean());
        foreach (Quantity quantity in new[] { Quantity.Temperature, Quantity.Humidity })
        {
            IReadOnlyList<Reading> there = from.Stored("hazel-air", quantity), here = into.Stored("hazel-air", quantity);
            Assert.Equal(there.Select(r => (r.At, r.Value, r.Marks)), here.Select(r => (r.At, r.Value, r.Marks & ~ReadingMarks.Imported)));
            Assert.All(here, reading => Assert.True((reading.Marks & ReadingMarks.Imported) != 0));
            ReadingBuckets a = Buckets(from), b = Buckets(into);
            Assert.Equal((a.StartMs, a.Min, a.Max, a.Count), (b.StartMs, b.Min, b.Max, b.Count), Columns);

            ReadingBuckets Buckets(IntakeHost host) => host.Services.GetRequiredService<IReadingStore>().Buckets(
                new SeriesKey("hazel-air", quantity), ImportRoom.Start, ImportRoom.Start + Duration.FromDays(4), 500, Correction.None);
        }
    }

    [Fact]
    public async Task Brought_in_once_more_it_changes_nothing_and_says_that_it_was_done_before()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        string file = ImportRoom.Export(300) + "2026-11-20T20:00:00Z,hazel-air,temperature,Cel,33,33,arrival-time\r\n";
        await host.BringInAsync(file, ("hazel-air", "hazel-air"));
        IReadOnlyList<Reading> before = host.Stored("hazel-air", Quantity.Temperature);

        JsonElement again = await host.BringInAsync(file);

        Assert.Equal(before, host.Stored("hazel-air", Quantity.Temperature));
        Assert.Equal((301, 301), (before.Count, again.Number("run", "taken")));
        Assert.NotEqual(JsonValueKind.Null, again.GetProperty("sameAs").ValueKind);
    }

    [Fact]
    public async Task A_trial_stores_nothing_and_names_the_probes_that_nobody_knows()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        JsonElement import = await host.ConfirmAsync(await host.SendFileAsync(ImportRoom.Export(5, "=logger") + "broken\r\n"));
        await host.BeginAsync(import, dry: true);
        JsonElement tried = await host.EndAsync(import);

        Assert.Equal(("waiting", 0, 6), (tried.GetProperty("state").GetString(), tried.Number("dryRun", "taken"), tried.Number("dryRun", "refused")));
        JsonElement named = Assert.Single(tried.GetProperty("dryRun").GetProperty("probes").EnumerateArray());
        Assert.Equal(("=logger", JsonValueKind.Null, 5), (named.GetProperty("name").GetString(), named.GetProperty("key").ValueKind, named.GetProperty("count").GetInt64()));
        Assert.Equal([ImportWords.UnknownProbe, ImportWords.FieldCount], tried.GetProperty("dryRun").GetProperty("reasons").EnumerateArray().Select(r => r.GetProperty("reason").GetString()));
        Assert.Empty(host.Services.GetRequiredService<IReadingStore>().Latest());

        await host.ConfirmAsync(import, ("=logger", "shelf-2"));
        await host.BeginAsync(import);
        JsonElement done = await host.EndAsync(import);

        Assert.Equal((5, 5), (done.Number("run", "taken"), host.Stored("shelf-2", Quantity.Temperature).Count));
        Assert.Contains((await host.GetAsync("/api/probes")).GetProperty("notPlaced").EnumerateArray(), probe => probe.GetProperty("key").GetString() == "shelf-2");
    }

    [Fact]
    public async Task The_report_has_every_refused_line_and_nothing_that_a_spreadsheet_carries_out()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        JsonElement done = await host.BringInAsync(
            ImportRoom.Export(2) + "=HYPERLINK(\"http://example.org\"),hazel-air,temperature,Cel,30,30,\r\n" + string.Concat(Enumerable.Repeat("x,hazel-air,temperature,Cel,30,30,\r\n", 100)),
            ("hazel-air", "hazel-air"));

        string[] report = (await host.Http.GetStringAsync($"/api/imports/{ImportRoom.Id(done)}/report?of=run", Token)).Split("\r\n");

        Assert.Equal(("line,column,reason,begins", 103, ""), (report[0], report.Length, report[^1]));
        Assert.Equal($"4,,\"{ImportWords.WrongTime}\",\"'=HYPERLINK(\"\"http://example.org\"\"),hazel-air,temperature,Cel,30,30,\"", report[1]);
        Assert.Equal((101, 50), (done.Number("run", "refused"), done.GetProperty("run").GetProperty("first").GetArrayLength()));
    }

    [Fact]
    public async Task Readings_from_a_file_are_no_sign_of_life_now_nor_after_a_restart()
    {
        string data = Directory.CreateTempSubdirectory("incubation-test-").FullName;
        string file = CsvReadings.Header + "2026-11-25T02:59:59Z,hazel-air,temperature,Cel,30,30,\r\n2026-11-24T02:00:00Z,shelf-2,temperature,Cel,30,30,\r\n";
        await using (IntakeHost host = await IntakeHost.StartAsync(directory: data, keep: true))
        {
            Instant heard = Instant.FromUtc(2026, 11, 24, 12, 0);
            await host.Services.GetRequiredService<IReadingStore>().StoreAsync(new[] { new Reading(Hazel, 29, heard, heard, ReadingMarks.None) }, Token);
            await host.BringInAsync(file, ("hazel-air", "hazel-air"), ("shelf-2", "shelf-2"));
            Assert.Empty(host.Services.GetRequiredService<LatestReadings>().Series);
        }

        await using IntakeHost later = await IntakeHost.StartAsync(directory: data);
        LatestReadings latest = later.Services.GetRequiredService<LatestReadings>();
        Assert.Equal([Hazel], latest.Series);
        Assert.Equal(29, latest.LatestGood(Hazel)!.Value.Value);
        Assert.Equal(2, later.Stored("hazel-air", Quantity.Temperature).Count);
    }

    [Fact]
    public async Task Only_who_keeps_what_it_read_of_the_past_hears_of_readings_from_a_file_and_after_they_are_stored()
    {
        Ear alarms = new(imported: false), past = new(imported: true);
        await using IntakeHost host = await IntakeHost.StartAsync(services => services.AddSingleton<IReadingListener>(alarms).AddSingleton<IReadingListener>(past));

        await host.BringInAsync(ImportRoom.Export(20), ("hazel-air", "hazel-air"));

        Assert.Equal((0, 20), (alarms.Heard, past.Heard));
    }

    [Theory]
    [InlineData("", HttpStatusCode.BadRequest, "empty")]
    [InlineData("\u00ff\u00fea\0,\0", HttpStatusCode.UnsupportedMediaType, "UTF-16")]
    [InlineData("PK\u0003\u0004\u0014\0\0\0", HttpStatusCode.UnsupportedMediaType, "workbook")]
    [InlineData("\u0089PNG\r\n\u001a\n\0\0\0\u000d", HttpStatusCode.UnsupportedMediaType, "no text")]
    public async Task A_file_that_is_none_of_readings_is_refused_and_nothing_of_it_is_left(string bytes, HttpStatusCode status, string word)
    {
        await using IntakeHost host = await IntakeHost.StartAsync();

        using HttpResponseMessage answer = await host.TrySendAsync(Encoding.Latin1.GetBytes(bytes));

        Assert.Equal(status, answer.StatusCode);
        Assert.Contains(word, await answer.Content.ReadAsStringAsync(Token), StringComparison.Ordinal);
        Assert.Empty(Directory.GetFiles(Path.Combine(host.Directory, "imports")));
        Assert.Empty((await host.GetAsync("/api/imports")).EnumerateArray());
    }

    [Fact]
    public async Task A_file_for_which_there_is_no_room_is_refused_before_it_fills_the_disk()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        ImportFiles files = host.Services.GetRequiredService<ImportFiles>();
        files.Free = () => 512L * 1024 * 1024;

        using HttpResponseMessage full = await host.TrySendAsync("a,b\r\n"u8.ToArray());
        ImportRefusedException large = await Assert.ThrowsAsync<ImportRefusedException>(() => files.TakeAsync(Guid.NewGuid(), Stream.Null, 5L << 30, Token));

        Assert.Equal((HttpStatusCode.InsufficientStorage, 413), (full.StatusCode, large.Status));
        Assert.Contains("4 GiB", large.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Day_and_month_that_fit_both_ways_must_be_said_before_anything_is_read()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        JsonElement import = await host.SendFileAsync("t,hazel-air temp\r\n1/2/2026 3:04,30\r\n");
        string id = ImportRoom.Id(import);
        object[] columns = [new { role = "time" }, new { role = "value", probe = "hazel-air", quantity = "temperature", unit = "°C" }];

        using HttpResponseMessage early = await host.PostAsync($"/api/imports/{id}/runs", new { });
        using HttpResponseMessage open = await host.PutAsync($"/api/imports/{id}/columns", new { separator = "comma", header = true, columns });
        using HttpResponseMessage said = await host.PutAsync($"/api/imports/{id}/columns", new { separator = "comma", header = true, timeForm = "dayFirst", columns });
        await host.BeginAsync(import);
        await host.EndAsync(import);

        Assert.Equal((HttpStatusCode.Conflict, HttpStatusCode.BadRequest, HttpStatusCode.OK), (early.StatusCode, open.StatusCode, said.StatusCode));
        Assert.Contains("timeForm", await open.Content.ReadAsStringAsync(Token), StringComparison.Ordinal);
        Assert.Equal(Instant.FromUtc(2026, 2, 1, 3, 4), Assert.Single(host.Stored("hazel-air", Quantity.Temperature)).At);
    }

    [Theory]
    [InlineData("PUT", "columns", "{}")]
    [InlineData("PUT", "columns", "{\"columns\":[null]}")]
    [InlineData("PUT", "columns", "{\"columns\":[{\"role\":\"wish\"}]}")]
    [InlineData("PUT", "columns", "{\"columns\":[],\"probes\":[null]}")]
    [InlineData("PUT", "columns", "{\"columns\":[{\"role\":\"time\"},{\"role\":\"value\",\"probe\":\"a/b\",\"quantity\":\"T!\"}],\"zone\":\"Nowhere\"}")]
    public async Task Columns_that_cannot_be_are_said_field_by_field(string method, string path, string body)
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        JsonElement import = await host.SendFileAsync(ImportRoom.Export(2));
        using HttpRequestMessage request = new(new HttpMethod(method), $"/api/imports/{ImportRoom.Id(import)}/{path}")
        {
            Content = new StringContent(body, Encoding.UTF8, "application/json"),
        };

        using HttpResponseMessage answer = await host.Http.SendAsync(request, Token);

        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.Equal("application/problem+json", answer.Content.Headers.ContentType!.MediaType);
    }

    [Fact]
    public async Task Only_a_keeper_may_and_what_is_not_there_is_not_found()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        using HttpRequestMessage look = new(HttpMethod.Get, "/api/imports");
        look.Headers.Add("X-Role", "viewer");

        using HttpResponseMessage refused = await host.Http.SendAsync(look, Token);
        using HttpResponseMessage missing = await host.PostAsync($"/api/imports/{Guid.NewGuid()}/runs", new { });
        using HttpResponseMessage nameless = await host.Http.PostAsync("/api/imports", new ByteArrayContent([1]), Token);

        Assert.Equal((HttpStatusCode.Forbidden, HttpStatusCode.NotFound, HttpStatusCode.BadRequest), (refused.StatusCode, missing.StatusCode, nameless.StatusCode));
    }

    private static bool Columns(
        (IReadOnlyList<long> Start, IReadOnlyList<double> Min, IReadOnlyList<double> Max, IReadOnlyList<int> Count) a,
        (IReadOnlyList<long> Start, IReadOnlyList<double> Min, IReadOnlyList<double> Max, IReadOnlyList<int> Count) b)
        => a.Start.Count > 0 && a.Start.SequenceEqual(b.Start) && a.Min.SequenceEqual(b.Min) && a.Max.SequenceEqual(b.Max) && a.Count.SequenceEqual(b.Count);

    private sealed class Ear(bool imported) : IReadingListener
    {
        public int Heard { get; private set; }

        public bool TakesImported => imported;

        public void Observe(in Reading reading) => Heard++;
    }
}
