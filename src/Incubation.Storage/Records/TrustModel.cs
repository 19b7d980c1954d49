using Microsoft.EntityFrameworkCore;

namespace Incubation.Storage.Records;

/// <summary>Tables of who may come in, what they changed, and what is kept against the worst.</summary>
internal static class TrustModel
{
    public static void Configure(ModelBuilder modelBuilder)
    {
        modelBuilder.Entity<InviteRecord>(e =>
        {
            e.ToTable("invite").HasKey(r => r.Id);
            e.HasIndex(r => r.TokenHash).IsUnique();
        });
        modelBuilder.Entity<SessionRecord>(e =>
        {
            e.ToTable("session").HasKey(r => r.Id);
            e.HasOne<PersonRecord>().WithMany().HasForeignKey(r => r.Person).OnDelete(DeleteBehavior.Restrict);
        });
        modelBuilder.Entity<PasskeyRecord>(e =>
        {
            e.ToTable("passkey").HasKey(r => r.Id);
            e.HasOne<PersonRecord>().WithMany().HasForeignKey(r => r.Person).OnDelete(DeleteBehavior.Restrict);
        });
        modelBuilder.Entity<ApiTokenRecord>(e =>
        {
            e.ToTable("api_token").HasKey(r => r.Id);
            e.HasIndex(r => r.TokenHash).IsUnique();
            e.HasOne<PersonRecord>().WithMany().HasForeignKey(r => r.Person).OnDelete(DeleteBehavior.Restrict);
        });
        modelBuilder.Entity<ProbeCredentialRecord>(e =>
        {
            e.ToTable("probe_credential").HasKey(r => r.Id);
            e.HasIndex(r => r.Probe);
        });
        modelBuilder.Entity<ChangeRecord>(e =>
        {
            e.ToTable("change").HasKey(r => r.Id);
            e.HasIndex(r => r.At);
        });
        modelBuilder.Entity<BackupRecord>(e =>
        {
            e.ToTable("backup").HasKey(r => r.Id);
            e.HasIndex(r => r.StartedAt);
        });
    }
}
