namespace DecayAtlas.Pages.Tests;

/// <summary>Released rows made by hand, with what pages show of them.</summary>
internal static class HandMade
{
    public static ReleasedSite Site(string contributor, string id, string contribution, double latitude, double longitude,
        string use = "accepted") => new()
        {
            SiteKey = $"{contributor}/{id}",
            ContributorId = contributor,
            ContributionId = contribution,
            LatitudeDegrees = latitude,
            LongitudeDegrees = longitude,
            CoordinateUncertaintyMetres = 30,
            IsGeneralised = false,
            CountryCode = "XA",
            Ecosystem = "forest",
            LandUse = "natural",
            Management = "none",
            ElevationMetres = 100,
            Use = use,
        };

    public static ReleasedBurial Burial(string contribution, string siteKey, string id, double? k, double s = 0.25,
        string use = "accepted") => new()
        {
            ContributionId = contribution,
            BurialId = id,
            SiteKey = siteKey,
            Campaign = "2024-spring",
            Plot = "1",
            FastBagId = id + "-F",
            SlowBagId = id + "-S",
            BuriedOn = new DateOnly(2024, 3, 1),
            RetrievedOn = new DateOnly(2024, 5, 30),
            ExposureDays = 90,
            DepthCentimetres = 8,
            IsAshFree = false,
            FastRemainingFraction = 0.4,
            SlowRemainingFraction = 0.75,
            Stabilisation = s,
            StabilisationUncertainty = 0.02,
            RatePerDay = k,
            RateUncertaintyPerDay = 0.001,
            RateMissingBecause = k is null ? "slow-loss-at-plateau" : null,
            Use = use,
        };

    public static ReleasedBag Bag(string contribution, string siteKey, string burial, string id, string lot, string role, double final,
        double remaining, string use = "accepted") => new()
        {
            ContributionId = contribution,
            BagId = id,
            BurialId = burial,
            SiteKey = siteKey,
            Campaign = "2024-spring",
            LotId = lot,
            Role = role,
            MassInitialGrams = 2.1,
            MassFinalGrams = final,
            MassBasis = "litter",
            BuriedOn = new DateOnly(2024, 3, 1),
            RetrievedOn = new DateOnly(2024, 5, 30),
            Condition = "intact",
            RemainingFraction = remaining,
            Use = use,
        };

    public static ReleasedLot SlowLot(string contribution, string lot, double hydrolysable) =>
        new() { ContributionId = contribution, LotId = lot, Role = "slow", HydrolysableFraction = hydrolysable };

    public static ReleasedCovariate Covariate(string siteKey, string name, double value, string unit) => new()
    {
        SiteKey = siteKey,
        Covariate = name,
        Value = value,
        Unit = unit,
        Rule = "bilinear",
        Status = "sampled",
        GridFingerprint = new string('b', 64),
    };

    public static ReleasedContribution Contribution(string id, string contributor, int sites = 1, int bags = 2, int burials = 1) => new()
    {
        ContributionId = id,
        Revision = 1,
        ContributorId = contributor,
        Campaign = "2024-spring",
        Protocol = "two-litters",
        Created = new DateOnly(2024, 6, 1),
        Licence = "CC-BY-4.0",
        ContentHash = new string('a', 64),
        Sites = sites,
        Lots = 2,
        Bags = bags,
        Burials = burials,
        Samples = 0,
    };

    public static ReleasedFlag Flag(string contribution, string kind, string id, string code, string severity, string explanation) => new()
    {
        ContributionId = contribution,
        RecordKind = kind,
        RecordId = id,
        Code = code,
        Severity = severity,
        Measured = 1.2,
        Limit = 1.1,
        Unit = "1",
        Explanation = explanation,
    };
}
