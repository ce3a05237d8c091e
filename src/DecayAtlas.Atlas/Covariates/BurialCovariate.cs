namespace DecayAtlas.Atlas.Covariates;

/// <summary>A covariate that differs between burials of one site, by their dates or depth.</summary>
public sealed record BurialCovariate(string ContributionId, string BurialId, ReleasedCovariate Value);
