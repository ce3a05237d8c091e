namespace DecayAtlas.Atlas.Tests;

/// <summary>A small atlas: three sites in two blocks and one without a possible place, six bags, three burials.</summary>
internal static class Given
{
    public static readonly ReleaseStatement Statement = new("Test atlas", "Test campaign", "{\n  \"limit\": 1\n}", "0.0.0", ["CC-BY-4.0"]);

    private static readonly ContributionHeader Header = new("c1", 1, "g1", "2024-spring", "p1", new(2024, 9, 1), "CC-BY-4.0",
        new string('a', 64));

    private static readonly LotRow FastLot = new(2, "F1", LitterRole.Fast, 0.842, 0.023, FractionBasis.Dry,
        HydrolysableParts.AllSoluble, null, null, null, null,
        null, null, null, null, 2, 0.3, 0.25, 0.01, 0.25, null);

    private static readonly LotRow SlowLot = FastLot with { LotId = "L1", Role = LitterRole.Slow, HydrolysableFraction = 0.552 };

    public static ContributorRows Rows(double fastFinal = 0.95)
    {
        Site[] sites = [SiteAt("S1", 50.04, 10.04, false), SiteAt("S2", -33.21, -70.55, true), SiteAt("S3", 95, 0, false)];
        Bag[] bags = [.. sites.SelectMany((s, i) => new[]
        {
            BagOf($"{i}f", $"{i}", s, FastLot, 2.25, fastFinal, i == 2 ? null : new(2024 + i, 7, 1)),
            BagOf($"{i}s", $"{i}", s, SlowLot, 2.25, 1.80, i == 2 ? null : new(2024 + i, 7, 1)),
        })];
        Burial[] burials = [.. sites.Select((s, i) => BurialOf($"{i}", s, bags[2 * i], bags[2 * i + 1]))];
        return new ContributorRows("g1")
        {
            { AtlasTables.Contributions, [ReleasedContribution.Of(Header, 3, 2, 6, 3, 5)] },
            { AtlasTables.Sites, [.. sites.Select(s => ReleasedSite.Of(s, Verdict.Accepted))] },
            { AtlasTables.Lots, [ReleasedLot.Of("c1", FastLot), ReleasedLot.Of("c1", SlowLot)] },
            { AtlasTables.Bags, [.. bags.Select((b, i) => ReleasedBag.Of(b, sites[i / 2].Place, Verdict.Accepted))] },
            { AtlasTables.Burials, [.. burials.Select((b, i) => ReleasedBurial.Of(b, sites[i].Place, Verdict.Accepted))] },
            {
                AtlasTables.SiteCampaigns,
                [
                    .. sites.Select((s, i) =>
                        ReleasedSiteCampaign.Of(new SiteCampaign(s.Key, "2024-spring", null, 1, new(2024, 4, 1), new(2024, 7, 1),
                        SampleSummary.Of([burials[i].RatePerDay.Value?.Value ?? 0.01]), new(0.0005, 0.001), 0, SampleSummary.Of([-4.5]),
                        null, SampleSummary.Of([0.2]), null, new(0.01, 0.02)))),
                ]
            },
            { AtlasTables.Plots, [new ReleasedPlot { SiteKey = "g1/S1", Campaign = "2024-spring", LnRateBurials = 1, LnRateMean = -4.5 }] },
            {
                AtlasTables.Curves,
                [
                    new ReleasedCurve
                    {
                        SiteKey = "g1/S1",
                        Campaign = "2024-spring",
                        Litter = "slow",
                        Model = "asymptotic",
                        Bags = 4,
                        Retrievals = 3,
                        ShortestDays = 30,
                        LongestDays = 120,
                        Statement = "There are 3 points.",
                        TwoBagRatePerDay = 0.01,
                        TwoBagBurials = 1,
                    },
                ]
            },
            {
                AtlasTables.Covariates,
                [
                    Covariate("g1/S1", "clay", 21.5, "%", "nearest", "sampled", 120, "sha256:0"),
                    Covariate("g1/S2", "clay", null, "%", "nearest", "missing", null, "sha256:0"),
                ]
            },
            {
                AtlasTables.BurialCovariates,
                [
                    ReleasedBurialCovariate.Of("c1", "0",
                        Covariate("g1/S1", "warmth", 14.5, "degC", "bilinear", "sampled", null, "sha256:1 sha256:2") with
                        {
                            CoveredShare = 1,
                            Layers = "month 5 x 0.4; month 6 x 0.6",
                        }),
                ]
            },
            {
                AtlasTables.CampaignCovariates,
                [
                    ReleasedCampaignCovariate.Of("g1/S1", "2024-spring", null, "warmth", "degC", [14.5]),
                    ReleasedCampaignCovariate.Of("g1/S2", "2024-spring", null, "warmth", "degC", null),
                ]
            },
            { AtlasTables.Decisions,
                [ReleasedDecision.Of(new Decision("c0", null, null, "curator", new(2025, 1, 2), "the group asked for it"))] },
            {
                AtlasTables.Samples,
                [
                    .. new[] { 0, 1, 1, 3, 5 }.Select((bag, i) =>
                        ReleasedSample.Of(SampleOf($"x{i}", bags[bag]), bags[bag], burials[bag / 2], sites[bag / 2], Verdict.Accepted)),
                ]
            },
        };
    }

    private static ReleasedCovariate Covariate(
        string siteKey, string name, double? value, string unit, string rule, string status, double? distance, string fingerprint) => new()
        {
            SiteKey = siteKey,
            Covariate = name,
            Value = value,
            Unit = unit,
            Rule = rule,
            Status = status,
            DistanceMetres = distance,
            GridFingerprint = fingerprint,
        };

    private static SampleRow SampleOf(string id, Bag bag) => new(2, id, bag.Row.BagId, "ITS", "ITS2", "ACC1", "an archive", 214, 3.62,
        "reads", 4.1e9, null, "qPCR", 0.032, "ITS over 16S rRNA");

    private static Site SiteAt(string id, double latitude, double longitude, bool isSensitive) => new(
        "g1/" + id, "g1", "c1",
        new SiteRow(2, id, latitude, longitude, 20, isSensitive, "XA", "grassland", "meadow", "organic", "mown twice", 100, null),
        PublishedPlace.Of(latitude, longitude, 20, isSensitive));

    private static Bag BagOf(string id, string burial, Site site, LotRow lot, double initial, double final, DateOnly? retrieved)
    {
        BagRow row = new(2, id, burial, site.Row.SiteId, null, "1", lot.LotId, lot.Role, null, initial, final, MassBasis.Gross, Drying.Oven,
            null, null, Drying.Oven, 60, null, null, null, new(2024, 4, 1), retrieved, 8, BagCondition.Intact, true, null, 0.01, null);
        return new Bag(Header, WeighedBag.Of(row, lot, MeasurementAssumptions.Default), site.Key);
    }

    private static Burial BurialOf(string id, Site site, Bag fast, Bag slow) => new(
        Header, id, site.Key, fast, slow, [fast, slow],
        WeighedBurial.Of([(fast.Row, fast.Lot), (slow.Row, slow.Lot)], MeasurementAssumptions.Default));
}
