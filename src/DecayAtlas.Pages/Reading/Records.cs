namespace DecayAtlas.Pages.Reading;

/// <summary>A site as it was released: of a sensitive one only what may be known.</summary>
public sealed record SiteFacts(
    string Key, string ContributorId, string ContributionId, double? LatitudeDegrees, double? LongitudeDegrees, double? UncertaintyMetres,
    bool IsGeneralised, string? Country, string? Ecosystem, string? LandUse, string? Management, string? ManagementNote, double? ElevationMetres,
    string Use, string? UseBecause)
{
    /// <summary>The id within its contributor.</summary>
    public string SiteId => Key.StartsWith(ContributorId + "/", StringComparison.Ordinal) ? Key[(ContributorId.Length + 1)..] : Key;
}

/// <summary>A released burial.</summary>
/// <param name="HydrolysableSlow">H of the slow litter as its lot states it (1), for drawing the curve.</param>
public sealed record BurialFacts(
    string ContributionId, string BurialId, string SiteKey, string Campaign, string? Plot, string? Treatment, string? FastBagId, string? SlowBagId,
    DateOnly? BuriedOn, DateOnly? RetrievedOn, int? ExposureDays, double? DepthCentimetres, double? FastRemaining, double? SlowRemaining,
    double? Stabilisation, double? StabilisationUncertainty, string? StabilisationMissing,
    double? RatePerDay, double? RateUncertainty, string? RateMissing, double? HydrolysableSlow, string Use, string? UseBecause)
{
    public bool IsAccepted => Use == "accepted";

    public bool IsUntreated => Atlas.Records.Treatment.IsUntreated(Treatment);

    /// <summary>Whether it says what the rate of its place is.</summary>
    public bool CountsForPlace => IsAccepted && IsUntreated && RatePerDay > 0;

    /// <summary>Share of the slow litter that can decompose, a_s = H_s (1 - S); missing where S or H is.</summary>
    public double? DecomposableSlow => Stabilisation is { } s && HydrolysableSlow is { } h ? h * (1 - s) : null;
}

/// <summary>A released bag.</summary>
public sealed record BagFacts(
    string ContributionId, string BagId, string? BurialId, string SiteKey, string LotId, string Role, double? MassInitialGrams, double? MassFinalGrams,
    string? MassBasis, string? Condition, double? Remaining, string? RemainingMissing, string Use, string? UseBecause);

/// <summary>One covariate of a site.</summary>
public sealed record CovariateFacts(string SiteKey, string Name, double? Value, string? Unit, string? Rule, string? Status, string? Fingerprint);

/// <summary>A released flag; the site it bears on is missing for flags on lots and contributions.</summary>
public sealed record FlagFacts(
    string ContributionId, string RecordKind, string RecordId, string Code, string Severity, double? Measured, double? Limit, string? Unit,
    string Explanation, string? OverruledBy, string? OverruledBecause, string? SiteKey);

/// <summary>A released contribution.</summary>
public sealed record ContributionFacts(
    string Id, int Revision, string ContributorId, string Campaign, string? Protocol, DateOnly? Created, string? Licence, string ContentHash,
    int Sites, int Bags, int Burials);

/// <summary>What a flag code means, told by whoever raises flags.</summary>
/// <param name="Severity">note, suspect or reject.</param>
/// <param name="On">The kind of record it stands on.</param>
public sealed record FlagMeaning(string Code, string Family, string Severity, string On, string Meaning, string Mend);
