namespace DecayAtlas.Atlas.Tables;

/// <summary>A released lot, as one contribution states it.</summary>
[Table("lots", "One row a lot and contribution: the chemistry and tare that the contribution states and that its bags were computed with.")]
public sealed record ReleasedLot
{
    [Column("contribution_id", "Contribution that states the lot.", IsKey = true)]
    public required string ContributionId { get; init; }

    [Column("lot_id", "Id of the production lot.", IsKey = true)]
    public required string LotId { get; init; }

    [Column("role", "fast or slow.")]
    public required string Role { get; init; }

    [Column("hydrolysable_fraction", "Hydrolysable share of the litter, H.", Unit = "1")]
    public double? HydrolysableFraction { get; init; }

    [Column("hydrolysable_fraction_sd", "Standard uncertainty of H.", Unit = "1")]
    public double? HydrolysableFractionSd { get; init; }

    [Column("ash_fraction", "Ash share of the litter as supplied.", Unit = "1")]
    public double? AshFraction { get; init; }

    [Column("ash_fraction_sd", "Standard uncertainty of the ash share.", Unit = "1")]
    public double? AshFractionSd { get; init; }

    [Column("litter_mass_nominal_g", "Litter mass a bag is made with.", Unit = "g")]
    public double? LitterMassNominalGrams { get; init; }

    [Column("litter_mass_tolerance_g", "How far a bag may be off that mass.", Unit = "g")]
    public double? LitterMassToleranceGrams { get; init; }

    [Column("tare_g", "Mass of bag, string and label.", Unit = "g")]
    public double? TareGrams { get; init; }

    [Column("tare_sd_g", "Standard deviation of the tare from bag to bag.", Unit = "g")]
    public double? TareSdGrams { get; init; }

    [Column("mesh_mm", "Mesh width of the bag.", Unit = "mm")]
    public double? MeshMillimetres { get; init; }

    [Column("chemistry_source", "Where the chemistry comes from.")]
    public string? ChemistrySource { get; init; }

    public static ReleasedLot Of(string contributionId, LotRow row) => new()
    {
        ContributionId = contributionId,
        LotId = row.LotId,
        Role = AtlasCode.Of(row.Role),
        HydrolysableFraction = row.HydrolysableFraction,
        HydrolysableFractionSd = row.HydrolysableFractionSd,
        AshFraction = row.AshFraction,
        AshFractionSd = row.AshFractionSd,
        LitterMassNominalGrams = row.LitterMassNominalGrams,
        LitterMassToleranceGrams = row.LitterMassToleranceGrams,
        TareGrams = row.TareGrams,
        TareSdGrams = row.TareSdGrams,
        MeshMillimetres = row.MeshMillimetres,
        ChemistrySource = row.ChemistrySource,
    };
}
