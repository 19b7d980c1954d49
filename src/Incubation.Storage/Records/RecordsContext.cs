using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Storage.ValueConversion;
using NodaTime;
using NodaTime.Text;

namespace Incubation.Storage.Records;

/// <summary>
/// The facility's records. One model for SQLite and PostgreSQL: times are Unix milliseconds, no provider's own types.
/// </summary>
public sealed class RecordsContext(DbContextOptions<RecordsContext> options) : DbContext(options)
{
    public DbSet<IncubatorRecord> Incubators => Set<IncubatorRecord>();
    public DbSet<ProbeRecord> Probes => Set<ProbeRecord>();
    public DbSet<PlacementRecord> Placements => Set<PlacementRecord>();
    public DbSet<BandRecord> Bands => Set<BandRecord>();
    public DbSet<RejectedMessageRecord> RejectedMessages => Set<RejectedMessageRecord>();
    public DbSet<SettingRecord> Settings => Set<SettingRecord>();
    public DbSet<PersonRecord> People => Set<PersonRecord>();
    public DbSet<AlarmStateRecord> AlarmStates => Set<AlarmStateRecord>();
    public DbSet<AlarmJournalRecord> AlarmJournal => Set<AlarmJournalRecord>();
    public DbSet<CallStepRecord> CallSteps => Set<CallStepRecord>();
    public DbSet<CallRecord> Calls => Set<CallRecord>();
    public DbSet<AnswerLinkRecord> AnswerLinks => Set<AnswerLinkRecord>();
    public DbSet<ClutchRecord> Clutches => Set<ClutchRecord>();
    public DbSet<EggRecord> Eggs => Set<EggRecord>();
    public DbSet<TubRecord> Tubs => Set<TubRecord>();
    public DbSet<ClutchPlacementRecord> ClutchPlacements => Set<ClutchPlacementRecord>();
    public DbSet<TubPlacementRecord> TubPlacements => Set<TubPlacementRecord>();
    public DbSet<CandlingRecord> Candlings => Set<CandlingRecord>();
    public DbSet<OutcomeRecord> Outcomes => Set<OutcomeRecord>();
    public DbSet<CareRecord> Care => Set<CareRecord>();
    public DbSet<TraitRecord> Traits => Set<TraitRecord>();
    public DbSet<PairingRecord> Pairings => Set<PairingRecord>();
    public DbSet<TintTermRecord> TintTerms => Set<TintTermRecord>();
    public DbSet<CalibrationRecord> Calibrations => Set<CalibrationRecord>();
    public DbSet<RunInRecord> RunIns => Set<RunInRecord>();
    public DbSet<ProbeLookRecord> ProbeLooks => Set<ProbeLookRecord>();
    public DbSet<ImportRecord> Imports => Set<ImportRecord>();
    public DbSet<InviteRecord> Invites => Set<InviteRecord>();
    public DbSet<SessionRecord> Sessions => Set<SessionRecord>();
    public DbSet<PasskeyRecord> Passkeys => Set<PasskeyRecord>();
    public DbSet<ApiTokenRecord> ApiTokens => Set<ApiTokenRecord>();
    public DbSet<ProbeCredentialRecord> ProbeCredentials => Set<ProbeCredentialRecord>();
    public DbSet<ChangeRecord> Changes => Set<ChangeRecord>();
    public DbSet<BackupRecord> Backups => Set<BackupRecord>();

    /// <inheritdoc/>
    protected override void ConfigureConventions(ModelConfigurationBuilder configurationBuilder)
    {
        configurationBuilder.Properties<Instant>().HaveConversion<InstantToUnixMs>();
        configurationBuilder.Properties<LocalDate>().HaveConversion<LocalDateToText>();
    }

    /// <inheritdoc/>
    protected override void OnModelCreating(ModelBuilder modelBuilder)
    {
        modelBuilder.Entity<IncubatorRecord>().ToTable("incubator").HasKey(r => r.Key);
        modelBuilder.Entity<ProbeRecord>().ToTable("probe").HasKey(r => r.Key);
        modelBuilder.Entity<PlacementRecord>(e =>
        {
            e.ToTable("placement").HasKey(r => r.Id);
            e.HasIndex(r => new { r.Probe, r.From });
            e.HasOne<IncubatorRecord>().WithMany().HasForeignKey(r => r.Incubator).OnDelete(DeleteBehavior.Restrict);
            e.HasOne<ProbeRecord>().WithMany().HasForeignKey(r => r.Probe).OnDelete(DeleteBehavior.Restrict);
        });
        modelBuilder.Entity<BandRecord>(e =>
        {
            e.ToTable("band").HasKey(r => r.Id);
            e.HasIndex(r => new { r.Incubator, r.Quantity, r.From });
            e.HasOne<IncubatorRecord>().WithMany().HasForeignKey(r => r.Incubator).OnDelete(DeleteBehavior.Restrict);
        });
        modelBuilder.Entity<RejectedMessageRecord>(e =>
        {
            e.ToTable("rejected_message").HasKey(r => r.Id);
            e.HasIndex(r => new { r.Topic, r.Reason }).IsUnique();
        });
        modelBuilder.Entity<SettingRecord>().ToTable("setting").HasKey(r => r.Key);
        modelBuilder.Entity<PersonRecord>(e =>
        {
            e.ToTable("person").HasKey(r => r.Id);
            e.HasIndex(r => r.Name).IsUnique();
        });
        modelBuilder.Entity<AlarmStateRecord>().ToTable("alarm_state").HasKey(r => r.Key);
        modelBuilder.Entity<AlarmJournalRecord>(e =>
        {
            e.ToTable("alarm_journal").HasKey(r => r.Id);
            e.HasIndex(r => r.Occurrence);
            e.HasIndex(r => r.At);
        });
        modelBuilder.Entity<CallStepRecord>().ToTable("call_step").HasKey(r => r.Id);
        modelBuilder.Entity<CallRecord>(e =>
        {
            e.ToTable("call").HasKey(r => r.Id);
            e.HasIndex(r => r.Status);
            e.HasIndex(r => r.Occurrence);
        });
        modelBuilder.Entity<AnswerLinkRecord>().ToTable("answer_link").HasKey(r => r.TokenHash);
        ClutchModel.Configure(modelBuilder);
        ProbeModel.Configure(modelBuilder);
        TrustModel.Configure(modelBuilder);
    }
}

/// <summary>Keeps an <see cref="Instant"/> as Unix milliseconds, which sorts and compares in every database.</summary>
public sealed class InstantToUnixMs() : ValueConverter<Instant, long>(
    instant => instant.ToUnixTimeMilliseconds(), ms => Instant.FromUnixTimeMilliseconds(ms));

/// <summary>Keeps a <see cref="LocalDate"/> as ISO 8601 text, which sorts and compares in every database.</summary>
public sealed class LocalDateToText() : ValueConverter<LocalDate, string>(
    date => LocalDatePattern.Iso.Format(date), text => LocalDatePattern.Iso.Parse(text).Value);
