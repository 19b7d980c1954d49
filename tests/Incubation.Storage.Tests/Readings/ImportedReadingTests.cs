using CsCheck;
using Incubation.Core.Readings;
using Xunit;

namespace Incubation.Storage.Tests.Readings;

/// <summary>Readings that were brought in from a file: their series and time are what they are known by, whatever else they are marked as.</summary>
public sealed class ImportedReadingTests
{
    private const long Day = 24 * 3_600_000;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData(ReadingMarks.None, false)]
    [InlineData(ReadingMarks.ArrivalTime, false)]
    [InlineData(ReadingMarks.None, true)]
    [InlineData(ReadingMarks.ClockOff, true)]
    public async Task StoreAsync_what_stands_at_that_time_stays_and_its_day_stays_sealed(ReadingMarks there, bool isSealed)
    {
        await using TemporaryStore it = TemporaryStore.Opened();
        Reading heard = Some.Reading(5_000, 31, marks: there), later = Some.Reading(2 * Day);
        await it.Store.StoreAsync(new[] { heard, later }, Token);
        int days = isSealed ? await it.Store.SealAsync(Some.At(Day), Token) : 0;

        await it.Store.StoreAsync(new[] { Some.Reading(5_000, 12, marks: ReadingMarks.Imported), Some.Reading(5_000, 13, marks: ReadingMarks.Imported | ReadingMarks.ArrivalTime) }, Token);

        Assert.Equal([heard, later], it.Store.Read(Some.Series(), Some.Before, Some.After));
        Assert.Equal([(long)days], it.Ask("SELECT count(*) FROM sealed", r => r.GetInt64(0)));
        Assert.Equal(isSealed ? 1 : 0, days);
    }

    [Fact]
    public async Task StoreAsync_a_file_brought_in_in_any_pieces_any_number_of_times_is_the_file_once() =>
        await Gen.Select(Gen.Int[1, 40], Gen.Int[0, 39].Array[0, 6], Gen.Bool).SampleAsync(async (lines, starts, sealing) =>
        {
            await using TemporaryStore it = TemporaryStore.Opened();
            Reading[] file =
            [
                .. Enumerable.Range(0, lines).Select(i => Some.Reading(
                    i * Day / 12, 30 + i, marks: ReadingMarks.Imported | (i % 3 == 0 ? ReadingMarks.ArrivalTime : i % 5 == 0 ? ReadingMarks.Saturated : ReadingMarks.None))),
            ];
            foreach (int start in starts.Append(0))
            {
                await it.Store.StoreAsync(file.AsMemory(Math.Min(start, lines)), Token);
                if (sealing)
                {
                    await it.Store.SealAsync(Some.At(2 * Day), Token);
                }
            }

            Assert.Equal(file, it.Store.Read(Some.Series(), Some.Before, Some.After));
        }, iter: 20, threads: 1);
}
