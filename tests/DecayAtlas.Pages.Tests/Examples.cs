using DecayAtlas.Pages.Reading;

namespace DecayAtlas.Pages.Tests;

/// <summary>Small releases made by hand.</summary>
internal static class Examples
{
    public const string Hostile = "</script><script>alert(1)</script>\"'><img src=x onerror=alert(2)>";

    public static SiteFacts Site(string contributor, string id, double latitude = 10, double longitude = 20, bool generalised = false) => new(
        $"{contributor}/{id}", contributor, $"c-{contributor}", latitude, longitude, 30, generalised, "XA", "forest", "natural", "none", null, 100, "accepted", null);

    public static BurialFacts Burial(string contributor, string site, string id, double? k, double s = 0.25, string use = "accepted", string? treatment = null) => new(
        $"c-{contributor}", id, $"{contributor}/{site}", "2024-spring", "1", treatment, id + "-F", id + "-S", new DateOnly(2024, 3, 1), new DateOnly(2024, 5, 30), 90, 8, 0.4, 0.75,
        s, 0.02, null, k, 0.001, k is null ? "slow-loss-at-plateau" : null, 0.5, use, null);

    public static ContributionFacts Contribution(string contributor) => new($"c-{contributor}", 1, contributor, "2024-spring", "two-litters", new DateOnly(2024, 6, 1), "CC-BY-4.0", new string('a', 64), 1, 2, 1);

    public static CovariateFacts Covariate(string contributor, string site, string name, double value, string unit) => new($"{contributor}/{site}", name, value, unit, "bilinear", "sampled", new string('b', 64));

    /// <summary>Groups g0, g1, ... of one site and one burial each, ever warmer and ever faster.</summary>
    public static ReleaseData WarmerIsFaster(int groups) => new(
        "0123456789ab",
        Enumerable.Range(0, groups).Select(i => Site($"g{i}", "S1", -40 + 80.0 * i / groups, -170 + 340.0 * (i * 7 % groups) / groups)),
        Enumerable.Range(0, groups).Select(i => Burial($"g{i}", "S1", "1", 0.005 * Math.Pow(2, 20.0 * i / groups / 10))),
        [],
        Enumerable.Range(0, groups).SelectMany(i => new[] { Covariate($"g{i}", "S1", "air_temperature", 20.0 * i / groups, "degC"), Covariate($"g{i}", "S1", "precipitation", 800, "mm/yr") }),
        Enumerable.Range(0, groups).Select(i => Contribution($"g{i}")),
        []);

    public static PagesInputs Inputs(ReleaseData data, ReleaseData? before = null) => new(
        data, before, [new FlagMeaning("mass-gain", "physical", "reject", "bag", "It grew.", "Weigh again.")], [], Path.Combine(Path.GetTempPath(), "no-such-release"), null, null, null, [], new Dictionary<string, string>());

    public static PagesOptions Options(ReleaseData data) => new("An atlas", "A campaign", ["en", "de"], ClimateNames.Of(data, null, null));
}
