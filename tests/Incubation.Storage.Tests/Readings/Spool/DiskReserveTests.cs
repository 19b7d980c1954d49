using Incubation.Storage.Readings.Spool;
using Xunit;

namespace Incubation.Storage.Tests.Readings.Spool;

/// <summary>Room that is given up for the records when the disk is nearly full, and taken again when there is plenty.</summary>
public sealed class DiskReserveTests : IDisposable
{
    private const long Size = 1024 * 1024;

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("incubation-reserve-");
    private long _free = 100 * Size;

    private string Path => System.IO.Path.Combine(_folder.FullName, "disk.reserve");

    public void Dispose() => _folder.Delete(recursive: true);

    [Fact]
    public void Look_takes_the_room_when_there_is_plenty_gives_it_up_when_little_is_left_and_takes_it_again()
    {
        DiskReserve reserve = new(Path, Size, () => _free);
        reserve.Look();
        Assert.True(reserve.Held);
        Assert.Equal(Size, new FileInfo(Path).Length);

        _free = Size / 2 - 1;
        reserve.Look();
        Assert.False(reserve.Held);
        Assert.False(File.Exists(Path));

        _free = 3 * Size - 1;
        reserve.Look();
        Assert.False(reserve.Held);
        _free = 3 * Size;
        reserve.Look();
        Assert.True(reserve.Held);
    }

    [Fact]
    public void MustSpare_only_when_the_room_is_given_up_and_that_is_used_up_too()
    {
        DiskReserve reserve = new(Path, Size, () => File.Exists(Path) ? _free - Size : _free);
        reserve.Look();
        _free = Size + Size / 4;
        reserve.Look();
        Assert.False(reserve.Held);
        Assert.False(reserve.MustSpare);

        _free = Size / 4 - 1;
        reserve.Look();
        Assert.True(reserve.MustSpare);
        _free = Size / 4;
        reserve.Look();
        Assert.False(reserve.MustSpare);
    }

    [Fact]
    public void Look_on_a_disk_that_is_small_or_can_not_be_asked_holds_nothing_and_throws_nothing()
    {
        DiskReserve nothing = new(System.IO.Path.Combine(_folder.FullName, "gone", "disk.reserve"), Size, () => 100 * Size);
        nothing.Look();
        Assert.False(nothing.Held);
        Assert.False(nothing.MustSpare);

        DiskReserve deaf = new(Path, Size, () => throw new IOException("as if the disk did not answer"));
        deaf.Look();
        Assert.False(deaf.Held);
        Assert.False(deaf.GiveUpNow());
    }

    [Fact]
    public void GiveUpNow_frees_once()
    {
        DiskReserve reserve = new(Path, Size, () => _free);
        reserve.Look();
        Assert.True(reserve.GiveUpNow());
        Assert.False(reserve.GiveUpNow());
        Assert.False(reserve.Held);
    }
}
