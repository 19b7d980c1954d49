using Incubation.Storage.Records;

namespace Incubation.Service.Demo;

/// <summary>Everything about eggs that the demo writes into the records.</summary>
internal sealed class DemoBook
{
    public List<TubRecord> Tubs { get; } = [];
    public List<TubPlacementRecord> TubPlacements { get; } = [];
    public List<ClutchRecord> Clutches { get; } = [];
    public List<EggRecord> Eggs { get; } = [];
    public List<ClutchPlacementRecord> ClutchPlacements { get; } = [];
    public List<CandlingRecord> Candlings { get; } = [];
    public List<OutcomeRecord> Outcomes { get; } = [];
    public List<CareRecord> Care { get; } = [];
    public List<TraitRecord> Traits { get; } = [];
    public List<PairingRecord> Pairings { get; } = [];
    public List<TintTermRecord> TintTerms { get; } = [];

    /// <summary>Adds all of it to a context.</summary>
    public void AddTo(RecordsContext records)
    {
        records.AddRange(Tubs);
        records.AddRange(TubPlacements);
        records.AddRange(Clutches);
        records.AddRange(Eggs);
        records.AddRange(ClutchPlacements);
        records.AddRange(Candlings);
        records.AddRange(Outcomes);
        records.AddRange(Care);
        records.AddRange(Traits);
        records.AddRange(Pairings);
        records.AddRange(TintTerms);
    }
}
