namespace DecayAtlas.Pages.Tests;

/// <summary>Small releases made by hand.</summary>
internal static class Examples
{
    public const string Hostile = "</script><script>alert(1)</script>\"'><img src=x onerror=alert(2)>";

    public static ReleasedSite Site(string contributor, string id, double latitude = 10, double longitude = 20, bool generalised = false) =>
        HandMade.Site(contributor, id, $"c-{contributor}", latitude, longitude) with { IsGeneralised = generalised };

    public static ReleasedBurial Burial(string contributor, string site, string id, double? k, double s = 0.25, string use = "accepted",
        string? treatment = null) =>
        HandMade.Burial($"c-{contributor}", $"{contributor}/{site}", id, k, s, use) with { Treatment = treatment };

    /// <summary>A mean of ln k over burials that nothing is shared by.</summary>
    public static ReleasedResult Summarised(
        string contribution, string siteKey, string id, int burials, double k, double lnRateSd) => new()
        {
            ContributionId = contribution,
            ResultId = id,
            SiteKey = siteKey,
            Campaign = "2024-spring",
            Evidence = "summarised",
            Burials = burials,
            BuriedOn = new DateOnly(2024, 3, 1),
            ExposureDays = 90,
            IsHarmonised = true,
            LnRateMean = Math.Log(k),
            LnRateSd = lnRateSd,
            LnRateReplicateUncertainty = lnRateSd / Math.Sqrt(burials),
            LnRateBatchUncertainty = 0,
            LnRateLotUncertainty = 0,
            RateMeanPerDay = k,
            StabilisationMean = 0.25,
            Use = "accepted",
        };

    public static ReleasedContribution Contribution(string contributor) => HandMade.Contribution($"c-{contributor}", contributor);

    public static ReleasedCovariate Covariate(string contributor, string site, string name, double value, string unit) =>
        HandMade.Covariate($"{contributor}/{site}", name, value, unit);

    /// <summary>Groups g0, g1, ... of one site and one burial each, ever warmer and ever faster.</summary>
    public static ReleaseData WarmerIsFaster(int groups) => new(
        "0123456789ab",
        Enumerable.Range(0, groups).Select(i => Site($"g{i}", "S1", -40 + 80.0 * i / groups, -170 + 340.0 * (i * 7 % groups) / groups)),
        Enumerable.Range(0, groups).Select(i => Burial($"g{i}", "S1", "1", 0.005 * Math.Pow(2, 20.0 * i / groups / 10))),
        [],
        Enumerable.Range(0, groups)
            .SelectMany(i =>
                new[] { Covariate($"g{i}", "S1", "air_temperature", 20.0 * i / groups, "degC"),
                    Covariate($"g{i}", "S1", "precipitation", 800, "mm/yr") }),
        Enumerable.Range(0, groups).Select(i => Contribution($"g{i}")),
        []);

    public static PagesInputs Inputs(ReleaseData data, ReleaseData? before = null) => new(
        data, before, [new FlagMeaning("mass-gain", "physical", "reject", "bag", "It grew.", "Weigh again.")], [],
        Path.Combine(Path.GetTempPath(), "no-such-release"), null, null, null, [], new Dictionary<string, string>());

    public static PagesOptions Options(ReleaseData data) => new("An atlas", "A campaign", ["en", "de"], ClimateNames.Of(data, null, null));
}
