namespace DecayAtlas.Atlas.Tables;

[Table("lots", "One row a lot and contribution: the chemistry and tare that the contribution states and that its bags were computed with.")]
public sealed record ReleasedLot
{
    [Column("contribution_id", "Contribution that states the lot.", IsKey = true)]
    public required string ContributionId { get; init; }

    [Column("lot_id", "Id of the production lot.", IsKey = true)]
    public required string LotId { get; init; }

    [Column("role", "fast or slow.")]
    public required string Role { get; init; }

    [Column("hydrolysable_fraction", "Hydrolysable share of the litter, H.", "1")]
    public double? HydrolysableFraction { get; init; }

    [Column("hydrolysable_fraction_sd", "Standard uncertainty of H.", "1")]
    public double? HydrolysableFractionSd { get; init; }

    [Column("ash_fraction", "Ash share of the litter as supplied.", "1")]
    public double? AshFraction { get; init; }

    [Column("ash_fraction_sd", "Standard uncertainty of the ash share.", "1")]
    public double? AshFractionSd { get; init; }

    [Column("litter_mass_nominal_g", "Litter mass a bag is made with.", "g")]
    public double? LitterMassNominalGrams { get; init; }

    [Column("litter_mass_tolerance_g", "How far a bag may be off that mass.", "g")]
    public double? LitterMassToleranceGrams { get; init; }

    [Column("tare_g", "Mass of bag, string and label.", "g")]
    public double? TareGrams { get; init; }

    [Column("tare_sd_g", "Standard deviation of the tare from bag to bag.", "g")]
    public double? TareSdGrams { get; init; }

    [Column("mesh_mm", "Mesh width of the bag.", "mm")]
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
