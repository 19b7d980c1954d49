using System.Collections.Immutable;
using Incubation.Service.Hosting;
using Incubation.Storage.Records;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;

namespace Incubation.Service.People;

/// <summary>Everyone who may sign in, in memory: every request checks a security stamp, and none should wait for the disk to do so.</summary>
internal sealed class PeopleRoster(
    IDbContextFactory<RecordsContext> contexts, IPasswordHasher<PersonRecord> hasher, ServiceClock clock) : IStartupStep, IDisposable
{
    // Checked when the name is unknown, so that a wrong name takes as long as a wrong password.
    private static readonly PersonRecord Nobody =
        new() { Name = "", Role = "", PasswordHash = "", SecurityStamp = "" };

    private readonly SemaphoreSlim _writing = new(1, 1);
    private readonly string _nobodysHash = hasher.HashPassword(Nobody, Guid.CreateVersion7().ToString());
    private ImmutableArray<PersonRecord> _people = [];

    /// <summary>Raised once, when the first owner has been written.</summary>
    public event Action? Claimed;

    public StartupStage Stage => StartupStage.People;

    public bool IsClaimed => !_people.IsEmpty;

    public async Task RunAsync(CancellationToken cancellationToken)
    {
        await using RecordsContext records = await contexts.CreateDbContextAsync(cancellationToken);
        _people = [.. await records.People.AsNoTracking().ToListAsync(cancellationToken)];
    }

    public PersonRecord? ById(Guid id) => _people.FirstOrDefault(person => person.Id == id);

    /// <summary>The person of this name if the password is theirs, else null; takes equally long for every wrong pair.</summary>
    public PersonRecord? Check(string name, string password)
    {
        PersonRecord? person = _people.FirstOrDefault(p => string.Equals(p.Name, name.Trim(), StringComparison.OrdinalIgnoreCase));
        PasswordVerificationResult result =
            hasher.VerifyHashedPassword(person ?? Nobody, person?.PasswordHash ?? _nobodysHash, password);
        return result == PasswordVerificationResult.Failed ? null : person;
    }

    /// <summary>Writes the first owner. Null when somebody was quicker.</summary>
    public async Task<PersonRecord?> ClaimAsync(string name, string password, CancellationToken cancellationToken)
    {
        await _writing.WaitAsync(cancellationToken);
        PersonRecord owner;
        try
        {
            if (IsClaimed)
            {
                return null;
            }

            owner = new PersonRecord
            {
                Id = Guid.CreateVersion7(clock.Provider.GetUtcNow()),
                Name = name.Trim(),
                Role = Policies.Owner,
                PasswordHash = "",
                SecurityStamp = Guid.NewGuid().ToString("N"),
                CreatedAt = clock.Wall,
            };
            owner.PasswordHash = hasher.HashPassword(owner, password);
            await using RecordsContext records = await contexts.CreateDbContextAsync(cancellationToken);
            records.People.Add(owner);
            await records.SaveChangesAsync(cancellationToken);
            _people = [owner];
        }
        finally
        {
            _writing.Release();
        }

        Claimed?.Invoke();
        return owner;
    }

    public void Dispose() => _writing.Dispose();
}
