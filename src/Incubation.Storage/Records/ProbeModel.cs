using Microsoft.EntityFrameworkCore;

namespace Incubation.Storage.Records;

/// <summary>Tables of what is known about probes besides their readings.</summary>
internal static class ProbeModel
{
    public static void Configure(ModelBuilder modelBuilder)
    {
        modelBuilder.Entity<CalibrationRecord>(e =>
        {
            e.ToTable("calibration").HasKey(r => r.Id);
            e.HasIndex(r => new { r.Probe, r.Quantity, r.From });
            e.HasOne<ProbeRecord>().WithMany().HasForeignKey(r => r.Probe).OnDelete(DeleteBehavior.Restrict);
        });
        modelBuilder.Entity<RunInRecord>(e =>
        {
            e.ToTable("run_in").HasKey(r => r.Id);
            e.HasOne<IncubatorRecord>().WithMany().HasForeignKey(r => r.Incubator).OnDelete(DeleteBehavior.Restrict);
        });
        modelBuilder.Entity<ProbeLookRecord>().ToTable("probe_look").HasKey(r => new { r.Person, r.Probe });
        modelBuilder.Entity<ImportRecord>().ToTable("import").HasKey(r => r.Id);
    }
}
