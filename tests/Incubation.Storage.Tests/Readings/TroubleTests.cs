using System.Data.Common;
using System.Diagnostics;
using Incubation.Core.Readings;
using Microsoft.Data.Sqlite;
using Xunit;

namespace Incubation.Storage.Tests.Readings;

/// <summary>A disk that fails: callers hear of it at once, what was acknowledged stays, and storing goes on when the disk does.</summary>
public sealed class TroubleTests
{
    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Copy_of_the_files_taken_at_any_moment_holds_every_acknowledged_reading()
    {
        await using TemporaryStore it = TemporaryStore.Opened();
        for (int round = 0; round < 10; round++)
        {
            await Task.WhenAll(Enumerable.Range(0, 50).Select(i => it.Store.StoreAsync(new[] { Some.Reading(round * 1_000 + i) }, Token)));
            DirectoryInfo crashed = Directory.CreateTempSubdirectory("incubation-crashed-");
            File.Copy(it.Path, Path.Combine(crashed.FullName, "readings.db"));
            File.Copy(it.Path + "-wal", Path.Combine(crashed.FullName, "readings.db-wal"));

            await using (TemporaryStore again = new(crashed))
            {
                again.Store.Open();
                Assert.Equal((round + 1) * 50, again.Store.Read(Some.Series(), Some.Before, Some.After).Count);
                Assert.Empty(again.WrongRollups());
            }

            crashed.Delete(recursive: true);
        }
    }

    [Fact]
    public async Task StoreAsync_another_program_holds_the_file_fails_with_words_and_goes_on_afterwards()
    {
        await using TemporaryStore it = TemporaryStore.Opened();
        await using (SqliteConnection other = new($"Data Source={it.Path};Pooling=False"))
        {
            await other.OpenAsync(Token);
            await using DbTransaction held = await other.BeginTransactionAsync(Token);

            StoreUnavailableException refused = await Assert.ThrowsAsync<StoreUnavailableException>(
                () => it.Store.StoreAsync(new[] { Some.Reading(0) }, Token).WaitAsync(TimeSpan.FromSeconds(30), Token));
            Assert.Contains("Another program", refused.Message, StringComparison.Ordinal);
        }

        await it.Store.StoreAsync(new[] { Some.Reading(1) }, Token);
        Assert.Equal([Some.At(1)], it.Store.Read(Some.Series(), Some.Before, Some.After).Select(r => r.At));
    }

    [Fact]
    public async Task StoreAsync_commit_that_fails_half_way_leaves_nothing_behind_and_spoils_nothing_later()
    {
        await using TemporaryStore it = TemporaryStore.Opened();
        it.Change("CREATE TRIGGER broken BEFORE INSERT ON reading WHEN new.value = 66 BEGIN SELECT raise(FAIL, 'as if the disk broke here'); END");

        StoreUnavailableException refused = await Assert.ThrowsAsync<StoreUnavailableException>(
            () => it.Store.StoreAsync(new[] { Some.Reading(0, probe: "new"), Some.Reading(1, 66, "new"), Some.Reading(2, probe: "new") }, Token));
        Assert.Contains("as if the disk broke here", refused.InnerException?.Message, StringComparison.Ordinal);
        Assert.Empty(it.Store.Latest());

        await it.Store.StoreAsync(new[] { Some.Reading(3, probe: "other"), Some.Reading(4, probe: "new") }, Token);
        Assert.Equal([Some.At(4)], it.Store.Read(Some.Series("new"), Some.Before, Some.After).Select(r => r.At));
        Assert.Equal([Some.At(3)], it.Store.Read(Some.Series("other"), Some.Before, Some.After).Select(r => r.At));
        Assert.Empty(it.WrongRollups());
    }

    [Fact]
    public async Task StoreAsync_full_disk_fails_with_words_keeps_what_was_acknowledged_and_goes_on_when_there_is_room()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux() && Environment.IsPrivilegedProcess, "Mounting a small disk needs root on Linux.");
        DirectoryInfo disk = Directory.CreateTempSubdirectory("incubation-small-disk-");
        Assert.SkipUnless(await RunAsync("mount", "-t", "tmpfs", "-o", "size=3m", "tmpfs", disk.FullName) == 0, "This machine doesn't allow mounting.");
        try
        {
            string ballast = Path.Combine(disk.FullName, "ballast");
            await File.WriteAllBytesAsync(ballast, new byte[1_000_000], Token);
            await using TemporaryStore it = new(disk);
            it.Store.Open();

            (int acknowledged, string words) = await FillAsync(it);
            Assert.Contains("disk is full", words, StringComparison.Ordinal);
            Assert.True(acknowledged > 1_000, $"only {acknowledged} fitted");
            Assert.Equal([(long)acknowledged], it.Ask("SELECT count(*) FROM reading", r => r.GetInt64(0)));

            File.Delete(ballast);
            await it.Store.StoreAsync(new[] { Some.Reading(-1) }, Token);
            Assert.Equal([acknowledged + 1L], it.Ask("SELECT count(*) FROM reading", r => r.GetInt64(0)));
            Assert.Empty(it.WrongRollups());
        }
        finally
        {
            await RunAsync("umount", disk.FullName);
            disk.Delete();
        }
    }

    // Until ten calls in a row have failed: none of them may hang, and none of them may be stored in part.
    private static async Task<(int Acknowledged, string Words)> FillAsync(TemporaryStore it)
    {
        int acknowledged = 0, failed = 0;
        string words = "";
        for (int i = 0; failed < 10; i++)
        {
            Reading[] part = [.. Enumerable.Range(0, 100).Select(n => Some.Reading(i * 1_000L + n))];
            try
            {
                await it.Store.StoreAsync(part, Token).WaitAsync(TimeSpan.FromSeconds(30), Token);
                acknowledged += part.Length;
                failed = 0;
            }
            catch (StoreUnavailableException full)
            {
                failed++;
                words = full.Message;
            }
        }

        return (acknowledged, words);
    }

    private static async Task<int> RunAsync(string command, params string[] arguments)
    {
        using Process process = Process.Start(new ProcessStartInfo(command, arguments) { RedirectStandardError = true })!;
        await process.WaitForExitAsync(CancellationToken.None);
        return process.ExitCode;
    }
}
