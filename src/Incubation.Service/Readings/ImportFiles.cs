using System.Buffers;
using System.Security.Cryptography;
using Incubation.Core;
using Incubation.Service.Hosting;
using Microsoft.Win32.SafeHandles;
using NodaTime;

namespace Incubation.Service.Readings;

/// <summary>A file that came whole.</summary>
internal sealed record ImportedFile(string Digest, long Bytes);

/// <summary>Why a file is not taken, as a status and words.</summary>
internal sealed class ImportRefusedException(int status, string words) : Exception(words)
{
    public int Status => status;
}

/// <summary>Files that are being brought in and their reports: in a folder of the data directory, whole or not at all.</summary>
internal sealed class ImportFiles(DataPaths paths)
{
    private const int BufferBytes = 256 * 1024;
    private const long LookAtRoomEvery = 64L * 1024 * 1024;

    // An upload that broke off is a draft for this long at the most.
    private static readonly TimeSpan DraftKept = TimeSpan.FromDays(1);

    /// <summary>Bytes free on the disk; set by tests.</summary>
    public Func<long>? Free { get; set; }

    public string PathOf(Guid id) => Path.Combine(paths.Imports, $"{id:N}.csv");

    public string ReportOf(Guid id, bool dry) => Path.Combine(paths.Imports, $"{id:N}.{(dry ? "dry" : "run")}.report.csv");

    public bool IsHere(Guid id) => File.Exists(PathOf(id));

    /// <summary>Whether the disk has room left for more than live readings.</summary>
    public bool HasRoom => (Free?.Invoke() ?? new DriveInfo(paths.Imports).AvailableFreeSpace) >= Limits.ImportRoomBytes / 2;

    /// <summary>Files that lie ready.</summary>
    public int Count => Directory.Exists(paths.Imports) ? Directory.EnumerateFiles(paths.Imports, "*.csv").Count(file => !file.EndsWith(".report.csv", StringComparison.Ordinal)) : 0;

    /// <summary>Takes a file as it comes, onto the disk.</summary>
    /// <param name="id">Under which it is kept.</param>
    /// <param name="body">The file.</param>
    /// <param name="length">Its length, if that is known before.</param>
    /// <param name="stop">Ends it; nothing is left then.</param>
    /// <exception cref="ImportRefusedException">It is too large, empty, or the disk has no room for it.</exception>
    public async Task<ImportedFile> TakeAsync(Guid id, Stream body, long? length, CancellationToken stop)
    {
        if (length > Limits.ImportBytes)
        {
            throw TooLarge();
        }

        Directory.CreateDirectory(paths.Imports);
        HoldRoom(length ?? 0);
        string draft = PathOf(id) + ".new";
        byte[] buffer = ArrayPool<byte>.Shared.Rent(BufferBytes);
        try
        {
            using IncrementalHash hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
            long at = 0;
            using (SafeFileHandle file = File.OpenHandle(draft, FileMode.CreateNew, FileAccess.Write, FileShare.None))
            {
                for (int count; (count = await body.ReadAsync(buffer.AsMemory(0, BufferBytes), stop)) > 0; at += count)
                {
                    if (at + count > Limits.ImportBytes)
                    {
                        throw TooLarge();
                    }

                    if (at / LookAtRoomEvery != (at + count) / LookAtRoomEvery)
                    {
                        HoldRoom(0);
                    }

                    hash.AppendData(buffer, 0, count);
                    await RandomAccess.WriteAsync(file, buffer.AsMemory(0, count), at, stop);
                }

                RandomAccess.FlushToDisk(file);
            }

            if (at == 0)
            {
                throw new ImportRefusedException(StatusCodes.Status400BadRequest, "The file is empty.");
            }

            File.Move(draft, PathOf(id));
            return new ImportedFile(Convert.ToHexStringLower(hash.GetHashAndReset()), at);
        }
        finally
        {
            ArrayPool<byte>.Shared.Return(buffer);
            File.Delete(draft);
        }
    }

    /// <summary>Start of a file, and whether that is all of it.</summary>
    public (byte[] Head, bool Whole) Head(Guid id)
    {
        using FileStream file = File.OpenRead(PathOf(id));
        byte[] head = new byte[(int)Math.Min(file.Length, Limits.ImportHeadBytes)];
        file.ReadExactly(head);
        return (head, head.Length == file.Length);
    }

    /// <summary>Somebody goes on with it: its days begin anew.</summary>
    public void Touch(Guid id, Instant now) => File.SetLastWriteTimeUtc(PathOf(id), now.ToDateTimeUtc());

    /// <summary>SHA-256 of a file as it lies there, hex.</summary>
    public async Task<string> DigestAsync(Guid id, CancellationToken stop)
    {
        await using FileStream file = File.OpenRead(PathOf(id));
        return Convert.ToHexStringLower(await SHA256.HashDataAsync(file, stop));
    }

    public void Delete(Guid id, bool reports)
    {
        File.Delete(PathOf(id));
        if (reports)
        {
            File.Delete(ReportOf(id, dry: true));
            File.Delete(ReportOf(id, dry: false));
        }
    }

    /// <summary>Deletes what nobody went on with for <see cref="Limits.ImportKeptDays"/>, and uploads that broke off.</summary>
    public void Tidy(Instant now)
    {
        if (!Directory.Exists(paths.Imports))
        {
            return;
        }

        foreach (string file in Directory.EnumerateFiles(paths.Imports))
        {
            TimeSpan age = now.ToDateTimeUtc() - File.GetLastWriteTimeUtc(file);
            if (age > (file.EndsWith(".new", StringComparison.Ordinal) ? DraftKept : TimeSpan.FromDays(Limits.ImportKeptDays)))
            {
                File.Delete(file);
            }
        }
    }

    private void HoldRoom(long more)
    {
        long free = Free?.Invoke() ?? new DriveInfo(paths.Imports).AvailableFreeSpace;
        // As much again for the readings themselves, which are packed only later.
        if (free - 2 * more < Limits.ImportRoomBytes)
        {
            throw new ImportRefusedException(
                StatusCodes.Status507InsufficientStorage, "The disk has no room for this file and its readings. Make room, or bring it in in parts.");
        }
    }

    private static ImportRefusedException TooLarge() => new(
        StatusCodes.Status413PayloadTooLarge, $"A file has at most {Limits.ImportBytes / 1024 / 1024 / 1024} GiB. Bring it in in parts.");
}
