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

/// <summary>What a value of k and S rests on.</summary>
public enum EvidenceKind
{
    /// <summary>The masses of single bags.</summary>
    Weighed,

    /// <summary>Means of remaining fractions over bags.</summary>
    Summarised,

    /// <summary>k and S as somebody else computed them.</summary>
    Reported,
}

/// <summary>What the masses behind a group's mean remaining fractions were.</summary>
public enum StatedBasis
{
    Dry,
    AshFree,

    /// <summary>The first mass as supplied, the last one dry.</summary>
    Moist,
}

/// <summary>What the errors of reported values are.</summary>
public enum ErrorKind
{
    /// <summary>Standard deviation between burials.</summary>
    Sd,

    /// <summary>Standard error of the mean.</summary>
    Se,
}

/// <summary>How reported values were computed.</summary>
public enum ResultMethod
{
    TwoLitter,
    SingleExponential,
    Asymptotic,
    Other,
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

    public string? SiteName { get; init; }
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

    public double? MassInitialSdGrams { get; init; }

    public double? MassFinalSdGrams { get; init; }
}

/// <summary>One row of <c>results</c>. What each value means is said in schemas/v1/results.json.</summary>
/// <param name="Row">1-based number of the line in the file where the row begins.</param>
public sealed record ResultRow(
    int Row,
    string ResultId,
    string SiteId,
    string? Treatment,
    EvidenceKind Evidence,
    int Burials,
    DateOnly BuriedOn,
    DateOnly? RetrievedOn,
    double? ExposureDays,
    double? ExposureSdDays,
    double? DepthCentimetres,
    string? FastLotId,
    string? SlowLotId,
    StatedBasis? Basis,
    double? FastRemainingMean,
    double? FastRemainingSd,
    double? SlowRemainingMean,
    double? SlowRemainingSd,
    double? RemainingCorrelation,
    double? RatePerDay,
    double? RateErrorPerDay,
    double? Stabilisation,
    double? StabilisationError,
    ErrorKind? ErrorsAre,
    ResultMethod? Method,
    double? FastHydrolysableUsed,
    double? SlowHydrolysableUsed,
    string? Notes)
{
    /// <summary>Days from the stated exposure, or else from the dates (d); negative where these are the wrong way round.</summary>
    public double? Exposure => ExposureDays ?? RetrievedOn?.DayNumber - BuriedOn.DayNumber;

    /// <summary>Most days by which a mean exposure may differ from its dates, besides twice its scatter (common practice, no
    /// source).</summary>
    public const int MostDaysApart = 7;

    /// <summary>The days between the dates, where the stated exposure is another by more than so many and twice its scatter (d).</summary>
    public int? OtherDaysByDates(double most) =>
        RetrievedOn?.DayNumber - BuriedOn.DayNumber is { } days && ExposureDays is { } stated
            && Math.Abs(stated - days) > most + 2 * (ExposureSdDays ?? 0) ? days : null;

    /// <summary>Whether several burials are said not to scatter at all.</summary>
    public bool IsWithoutScatter => Burials > 1
        && (FastRemainingSd == 0 || SlowRemainingSd == 0 || RateErrorPerDay == 0 || StabilisationError == 0);

    /// <summary>The stated day, or else the one that the exposure leads to.</summary>
    public DateOnly? LastDay => RetrievedOn ?? (ExposureDays is { } days ? BuriedOn.AddDays((int)Math.Round(days)) : null);
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
