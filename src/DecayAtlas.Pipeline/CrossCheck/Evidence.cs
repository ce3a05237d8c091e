namespace DecayAtlas.Pipeline.CrossCheck;

/// <summary>The little of one contributor's computed records that is held against those of all others.</summary>
internal sealed record Evidence(
    IReadOnlyList<SiteEvidence> Sites, IReadOnlyList<ReplicateEvidence> Replicates, IReadOnlyList<FillingEvidence> Fillings,
    IReadOnlyList<MassEvidence> Masses);

/// <summary>One accepted site in one campaign, untreated plots only.</summary>
/// <param name="SiteContributionId">The contribution whose description of the site stands.</param>
/// <param name="ContributionId">The contribution that brought the burials; the first where several did.</param>
/// <param name="IsSensitive">Whether nothing may be told that depends on its place.</param>
/// <param name="LatitudeDegrees">Exact latitude: the memory is as private as the intake.</param>
/// <param name="Covariates">Numeric covariates in the order of their names; NaN where missing.</param>
/// <param name="LnRate">ln k (d⁻¹) of the accepted burials.</param>
internal sealed record SiteEvidence(
    string SiteContributionId, string SiteId, string ContributionId, string Campaign, bool IsSensitive, double LatitudeDegrees,
    double LongitudeDegrees,
    IReadOnlyList<double> Covariates, SampleSummary? LnRate, SampleSummary? Stabilisation);

/// <summary>One accepted burial with k and S; those of one <paramref name="Group"/> are replicates of one site, campaign and
/// treatment.</summary>
/// <param name="Group">Number of the group within the contributor.</param>
/// <param name="Pair">S and ln k with the covariance of their own measuring errors.</param>
internal readonly record struct ReplicateEvidence(string ContributionId, string BurialId, string? Ecosystem, string Campaign, int Group,
    Replicate Pair);

/// <summary>The initial litter masses (g) of the accepted bags of one lot in one contribution.</summary>
internal readonly record struct FillingEvidence(string ContributionId, string LotId, int Bags, double MeanGrams, double SumOfSquares);

/// <summary>The four masses of one burial as a fingerprint, where the balance is fine enough for them to tell.</summary>
internal readonly record struct MassEvidence(string ContributionId, string BurialId, ulong Print);
