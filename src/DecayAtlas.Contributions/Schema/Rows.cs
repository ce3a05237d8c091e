namespace DecayAtlas.Contributions.Schema;

public enum Drying
{
    Oven,
    Air,
    Freeze,
    None,
}

public enum BagCondition
{
    Intact,
    Torn,
    Roots,
    Lost,
}

/// <summary>One row of <c>sites</c>. What each value means is said in schemas/v1/sites.json.</summary>
/// <param name="Row">1-based number of the line in the file where the row begins.</param>
public sealed record SiteRow(
    int Row,
    string SiteId,
    double DecimalLatitude,
    double DecimalLongitude,
    double? CoordinateUncertaintyMetres,
    bool? CoordinatesSensitive,
    string? CountryCode,
    string? Ecosystem,
    string? LandUse,
    string? Management,
    string? ManagementNote,
    double? ElevationMetres,
    string? Notes)
{
    /// <summary>What the words of the site were before they became ours; null where none changed.</summary>
    public string? WordsAsSent { get; init; }
}

/// <summary>One row of <c>lots</c>. What each value means is said in schemas/v1/lots.json.</summary>
/// <param name="Row">1-based number of the line in the file where the row begins.</param>
public sealed record LotRow(
    int Row,
    string LotId,
    LitterRole Role,
    double HydrolysableFraction,
    double HydrolysableFractionSd,
    FractionBasis? HydrolysableBasis,
    HydrolysableParts? HydrolysableParts,
    double? NonpolarFraction,
    double? NonpolarFractionSd,
    double? WaterSolubleFraction,
    double? WaterSolubleFractionSd,
    double? AshFraction,
    double? AshFractionSd,
    double? MoistureFraction,
    double? MoistureFractionSd,
    double? LitterMassNominalGrams,
    double? LitterMassToleranceGrams,
    double? TareGrams,
    double? TareSdGrams,
    double? MeshMillimetres,
    string? ChemistrySource);

/// <summary>One row of <c>bags</c>. What each value means is said in schemas/v1/bags.json.</summary>
/// <param name="Row">1-based number of the line in the file where the row begins.</param>
public sealed record BagRow(
    int Row,
    string BagId,
    string BurialId,
    string SiteId,
    string? Plot,
    string? Replicate,
    string LotId,
    LitterRole Role,
    string? Treatment,
    double? MassInitialGrams,
    double? MassFinalGrams,
    MassBasis MassBasis,
    Drying? DryingInitial,
    double? MoistureInitialFraction,
    double? MoistureInitialFractionSd,
    Drying? Drying,
    double? DryingTemperatureCelsius,
    double? MoistureFinalFraction,
    double? MoistureFinalFractionSd,
    double? AshFraction,
    DateOnly BuriedOn,
    DateOnly? RetrievedOn,
    double? DepthCentimetres,
    BagCondition? Condition,
    bool? UnusedMaterial,
    string? BatchId,
    double? BalanceResolutionGrams,
    string? Notes)
{
    /// <summary>What the treatment was called before it got our word; null where it kept its own.</summary>
    public string? TreatmentAsSent { get; init; }
}

/// <summary>One row of <c>samples</c>. What each value means is said in schemas/v1/samples.json.</summary>
/// <param name="Row">1-based number of the line in the file where the row begins.</param>
public sealed record SampleRow(
    int Row,
    string SampleId,
    string BagId,
    string? TargetGene,
    string? TargetSubfragment,
    string? Accession,
    string? Archive,
    double? Richness,
    double? ShannonIndexNat,
    string? DiversityMethod,
    double? GeneCopiesPerGramDry,
    double? GeneCopiesPerGramMoist,
    string? GeneCopiesMethod,
    double? FungiToBacteriaRatio,
    string? FungiToBacteriaMethod);
