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

    [Column("hydrolysable_fraction", "Hydrolysable share of the litter, H, as stated.", "1")]
    public double? HydrolysableFraction { get; init; }

    [Column("hydrolysable_fraction_sd", "Standard uncertainty of H.", "1")]
    public double? HydrolysableFractionSd { get; init; }

    [Column("hydrolysable_basis", "What H is a share of, as stated: dry or ash-free. Missing counts as dry.")]
    public string? HydrolysableBasis { get; init; }

    [Column("hydrolysable_parts",
        "Which fractions H counts, as stated: all-soluble (non-polar extractives, water and acid soluble), water-and-acid-soluble or "
        + "acid-soluble. Missing counts as all-soluble, which k and S are made with; what an H leaves out is added before.")]
    public string? HydrolysableParts { get; init; }

    [Column("nonpolar_fraction", "Share of non-polar extractives.", "1")]
    public double? NonpolarFraction { get; init; }

    [Column("nonpolar_fraction_sd", "Its standard uncertainty.", "1")]
    public double? NonpolarFractionSd { get; init; }

    [Column("water_soluble_fraction", "Share of water soluble matter.", "1")]
    public double? WaterSolubleFraction { get; init; }

    [Column("water_soluble_fraction_sd", "Its standard uncertainty.", "1")]
    public double? WaterSolubleFractionSd { get; init; }

    [Column("ash_fraction", "Ash share of the dry litter as supplied.", "1")]
    public double? AshFraction { get; init; }

    [Column("ash_fraction_sd", "Standard uncertainty of the ash share.", "1")]
    public double? AshFractionSd { get; init; }

    [Column("moisture_fraction", "Share of water in the litter as supplied.", "1")]
    public double? MoistureFraction { get; init; }

    [Column("moisture_fraction_sd", "Its standard uncertainty.", "1")]
    public double? MoistureFractionSd { get; init; }

    [Column("litter_mass_nominal_g", "Litter mass a bag is made with.", "g")]
    public double? LitterMassNominalGrams { get; init; }

    [Column("litter_mass_tolerance_g", "How far a bag may be off that mass.", "g")]
    public double? LitterMassToleranceGrams { get; init; }

    [Column("tare_g", "Mass of the empty bag with all that hangs on it.", "g")]
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
        HydrolysableBasis = row.HydrolysableBasis is { } basis ? AtlasCode.Of(basis) : null,
        HydrolysableParts = row.HydrolysableParts is { } parts ? AtlasCode.Of(parts) : null,
        NonpolarFraction = row.NonpolarFraction,
        NonpolarFractionSd = row.NonpolarFractionSd,
        WaterSolubleFraction = row.WaterSolubleFraction,
        WaterSolubleFractionSd = row.WaterSolubleFractionSd,
        AshFraction = row.AshFraction,
        AshFractionSd = row.AshFractionSd,
        MoistureFraction = row.MoistureFraction,
        MoistureFractionSd = row.MoistureFractionSd,
        LitterMassNominalGrams = row.LitterMassNominalGrams,
        LitterMassToleranceGrams = row.LitterMassToleranceGrams,
        TareGrams = row.TareGrams,
        TareSdGrams = row.TareSdGrams,
        MeshMillimetres = row.MeshMillimetres,
        ChemistrySource = row.ChemistrySource,
    };
}
