using System.Buffers.Binary;
using System.Net;
using Xunit;

namespace Incubation.Service.Tests.Clutches;

public sealed class PhotoTests
{
    private const string Path = "/api/clutches/c-01/photo";

    [Fact]
    public async Task A_photo_comes_back_as_its_own_kind_whatever_it_was_sent_as_and_is_never_sniffed()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        await room.ClutchAsync();
        (await room.Http.GetAsync(Path, Stop)).Dispose();
        byte[] png = Pictures.Png();

        (await room.PutFileAsync(Path, png, "text/html")).Is(HttpStatusCode.NoContent);

        using HttpResponseMessage shown = await room.Http.GetAsync(Path, Stop);
        Assert.Equal("image/png", shown.Content.Headers.ContentType?.MediaType);
        Assert.Equal("nosniff", Assert.Single(shown.Headers.GetValues("X-Content-Type-Options")));
        Assert.Equal(png, await shown.Content.ReadAsByteArrayAsync(Stop));
        Assert.Equal(System.Text.Json.JsonValueKind.String, (await room.GetAsync("/api/clutches/c-01")).GetProperty("photoAt").ValueKind);

        (await room.PutFileAsync(Path, Pictures.Jpeg(), "image/jpeg")).Is(HttpStatusCode.NoContent);
        Assert.Single(Directory.GetFiles(System.IO.Path.Combine(room.DataDirectory, "photos")));
        (await room.DeleteAsync(Path)).Is(HttpStatusCode.NoContent);
        (await room.DeleteAsync(Path)).Is(HttpStatusCode.NotFound);
        Assert.Empty(Directory.GetFiles(System.IO.Path.Combine(room.DataDirectory, "photos")));
    }

    [Fact]
    public async Task What_is_no_picture_too_large_or_cut_off_is_refused_with_words_and_the_one_before_stays()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        await room.ClutchAsync();
        byte[] jpeg = Pictures.Jpeg();
        (await room.PutFileAsync(Path, jpeg, "image/jpeg")).Is(HttpStatusCode.NoContent);

        (await room.PutFileAsync(Path, "<svg onload=\"alert(1)\"/>"u8.ToArray(), "image/png")).Is(HttpStatusCode.UnsupportedMediaType);
        (await room.PutFileAsync(Path, [], "image/png")).Is(HttpStatusCode.UnsupportedMediaType);
        Assert.Contains("cut off", (await room.PutFileAsync(Path, jpeg[..^4], "image/jpeg")).Is(HttpStatusCode.UnsupportedMediaType).Text("detail"), StringComparison.Ordinal);
        byte[] large = new byte[(3 * 1024 * 1024) + 1];
        jpeg.CopyTo(large, 0);
        Assert.Contains("at most 3 MB", (await room.PutFileAsync(Path, large, "image/jpeg")).Is(HttpStatusCode.RequestEntityTooLarge).Text("detail"), StringComparison.Ordinal);
        (await room.PutFileAsync("/api/clutches/none/photo", jpeg, "image/jpeg")).Is(HttpStatusCode.NotFound);

        Assert.Equal(jpeg, await room.Http.GetByteArrayAsync(Path, Stop));
    }

    [Fact]
    public async Task The_place_and_the_texts_in_a_photo_are_left_out_and_which_way_is_up_stays()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        await room.ClutchAsync();

        (await room.PutFileAsync(Path, Pictures.Jpeg(orientation: 6, secret: "51.5N 0.1W"), "image/jpeg")).Is(HttpStatusCode.NoContent);
        byte[] jpeg = await room.Http.GetByteArrayAsync(Path, Stop);
        Assert.Equal(Pictures.Jpeg(orientation: 6), jpeg);

        (await room.PutFileAsync(Path, Pictures.Png(secret: "51.5N 0.1W"), "image/png")).Is(HttpStatusCode.NoContent);
        Assert.Equal(Pictures.Png(), await room.Http.GetByteArrayAsync(Path, Stop));
    }

    [Fact]
    public void No_cut_and_no_flipped_byte_of_a_picture_makes_reading_it_fail()
    {
        foreach (byte[] whole in new[] { Pictures.Jpeg(6, "secret"), Pictures.Png("secret") })
        {
            Service.Clutches.PhotoKind kind = Service.Clutches.Photo.KindOf(whole)!.Value;
            for (int i = 8; i < whole.Length; i++)
            {
                Assert.Null(Service.Clutches.Photo.WithoutNotes(whole.AsSpan(0, i), kind) is { } cut && cut.Length > i ? cut : null);
                for (int bit = 0; bit < 8; bit++)
                {
                    byte[] flipped = [.. whole];
                    flipped[i] ^= (byte)(1 << bit);
                    byte[]? read = Service.Clutches.Photo.WithoutNotes(flipped, kind);
                    Assert.True(read is null || read.Length <= whole.Length + 36);
                }
            }
        }
    }

    private static CancellationToken Stop => TestContext.Current.CancellationToken;
}

/// <summary>Small pictures made byte by byte: enough of ITU-T T.81 and of the PNG specification to be told from others.</summary>
internal static class Pictures
{
    public static byte[] Jpeg(int? orientation = null, string? secret = null)
    {
        using var file = new MemoryStream();
        file.Write([0xFF, 0xD8]);
        Segment(file, 0xE0, [.. "JFIF\0"u8, 1, 2, 0, 0, 1, 0, 1, 0, 0]);
        if (orientation is { } way)
        {
            byte[] entry = [0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, (byte)way, 0, 0];
            // With a secret: a second entry (tag 0x8825, place) and the text behind the directory.
            byte[] more = secret is null ? [] : [0x88, 0x25, 0, 4, 0, 0, 0, 1, 0, 0, 0, 38];
            byte[] tail = secret is null ? [] : System.Text.Encoding.ASCII.GetBytes(secret);
            Segment(file, 0xE1, [.. "Exif\0\0"u8, .. "MM\0*"u8, 0, 0, 0, 8, 0, (byte)(secret is null ? 1 : 2), .. entry, .. more, 0, 0, 0, 0, .. tail]);
        }

        if (secret is not null)
        {
            Segment(file, 0xFE, System.Text.Encoding.ASCII.GetBytes(secret));
        }

        Segment(file, 0xDB, new byte[65]);
        Segment(file, 0xDA, [1, 1, 0, 0, 63, 0]);
        file.Write([0x12, 0xFF, 0x00, 0x34, 0xFF, 0xD0, 0x56, 0xFF, 0xD9]);
        if (secret is not null)
        {
            file.Write(System.Text.Encoding.ASCII.GetBytes(secret));
        }

        return file.ToArray();
    }

    public static byte[] Png(string? secret = null)
    {
        using var file = new MemoryStream();
        file.Write([0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A]);
        Chunk(file, "IHDR", [0, 0, 0, 1, 0, 0, 0, 1, 8, 0, 0, 0, 0]);
        if (secret is not null)
        {
            Chunk(file, "tEXt", System.Text.Encoding.ASCII.GetBytes("Comment\0" + secret));
            Chunk(file, "eXIf", System.Text.Encoding.ASCII.GetBytes(secret));
        }

        Chunk(file, "IDAT", [0x78, 0x9C, 0x63, 0x60, 0, 0, 0, 2, 0, 1]);
        Chunk(file, "IEND", []);
        return file.ToArray();
    }

    private static void Segment(MemoryStream file, byte marker, byte[] content)
    {
        byte[] length = new byte[2];
        BinaryPrimitives.WriteUInt16BigEndian(length, (ushort)(content.Length + 2));
        file.Write([0xFF, marker, .. length, .. content]);
    }

    private static void Chunk(MemoryStream file, string type, byte[] content)
    {
        byte[] length = new byte[4];
        BinaryPrimitives.WriteUInt32BigEndian(length, (uint)content.Length);
        // The checksum is not looked at.
        file.Write([.. length, .. System.Text.Encoding.ASCII.GetBytes(type), .. content, 0, 0, 0, 0]);
    }
}
