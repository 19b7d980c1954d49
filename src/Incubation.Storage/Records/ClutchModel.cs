using Microsoft.EntityFrameworkCore;

namespace Incubation.Storage.Records;

/// <summary>How the records of clutches and eggs lie in the database.</summary>
internal static class ClutchModel
{
    public static void Configure(ModelBuilder modelBuilder)
    {
        modelBuilder.Entity<ClutchRecord>(e =>
        {
            e.ToTable("clutch").HasKey(r => r.Id);
            e.HasIndex(r => r.Key).IsUnique();
        });
        modelBuilder.Entity<EggRecord>(e =>
        {
            e.ToTable("egg").HasKey(r => r.Id);
            e.HasIndex(r => new { r.Clutch, r.Number }).IsUnique();
            e.HasOne<ClutchRecord>().WithMany().HasForeignKey(r => r.Clutch).OnDelete(DeleteBehavior.Restrict);
        });
        modelBuilder.Entity<TubRecord>().ToTable("tub").HasKey(r => r.Key);
        modelBuilder.Entity<ClutchPlacementRecord>(e =>
        {
            e.ToTable("clutch_placement").HasKey(r => r.Id);
            e.HasIndex(r => new { r.Clutch, r.From });
            e.HasOne<ClutchRecord>().WithMany().HasForeignKey(r => r.Clutch).OnDelete(DeleteBehavior.Restrict);
            e.HasOne<TubRecord>().WithMany().HasForeignKey(r => r.Tub).OnDelete(DeleteBehavior.Restrict);
        });
        modelBuilder.Entity<TubPlacementRecord>(e =>
        {
            e.ToTable("tub_placement").HasKey(r => r.Id);
            e.HasIndex(r => new { r.Tub, r.From });
            e.HasOne<TubRecord>().WithMany().HasForeignKey(r => r.Tub).OnDelete(DeleteBehavior.Restrict);
            e.HasOne<IncubatorRecord>().WithMany().HasForeignKey(r => r.Incubator).OnDelete(DeleteBehavior.Restrict);
        });
        modelBuilder.Entity<CandlingRecord>(e =>
        {
            e.ToTable("candling").HasKey(r => r.Id);
            e.HasIndex(r => new { r.Egg, r.At });
            e.HasOne<EggRecord>().WithMany().HasForeignKey(r => r.Egg).OnDelete(DeleteBehavior.Restrict);
        });
        modelBuilder.Entity<OutcomeRecord>(e =>
        {
            e.ToTable("outcome").HasKey(r => r.Id);
            e.HasIndex(r => r.Egg);
            e.HasOne<EggRecord>().WithMany().HasForeignKey(r => r.Egg).OnDelete(DeleteBehavior.Restrict);
        });
        modelBuilder.Entity<CareRecord>(e =>
        {
            e.ToTable("care").HasKey(r => r.Id);
            e.HasIndex(r => new { r.On, r.Key, r.At });
        });
        modelBuilder.Entity<TraitRecord>().ToTable("trait").HasKey(r => r.Key);
        modelBuilder.Entity<PairingRecord>(e =>
        {
            e.ToTable("pairing").HasKey(r => r.Id);
            e.HasIndex(r => new { r.Clutch, r.Trait });
            e.HasOne<ClutchRecord>().WithMany().HasForeignKey(r => r.Clutch).OnDelete(DeleteBehavior.Restrict);
            e.HasOne<TraitRecord>().WithMany().HasForeignKey(r => r.Trait).OnDelete(DeleteBehavior.Restrict);
        });
        modelBuilder.Entity<TintTermRecord>().ToTable("tint_term").HasKey(r => r.Key);
    }
}
