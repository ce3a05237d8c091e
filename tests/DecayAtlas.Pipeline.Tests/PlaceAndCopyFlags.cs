namespace DecayAtlas.Pipeline.Tests;

public sealed class PlaceAndCopyFlags : IDisposable
{
    // a square country, 49 to 51 north and 9 to 11 east
    private const string SquareCountry = """
        {"type":"FeatureCollection","features":[{"type":"Feature","properties":{"country_code":"XA"},
        "geometry":{"type":"Polygon","coordinates":[[[9,49],[11,49],[11,51],[9,51],[9,49]]]}}]}
        """;

    private readonly string _outlines = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName() + ".geojson");

    public PlaceAndCopyFlags() => File.WriteAllText(_outlines, SquareCountry);

    public void Dispose() => File.Delete(_outlines);

    private string[] Flagged(SiteRow site) =>
        Given.Flagged(Given.Inputs(Given.Contribution(site: site)) with { Countries = CountryOutlines.Load(_outlines) });

    public static TheoryData<string, SiteRow> SiteFaults => new()
    {
        { "coordinates-impossible Site S1", Given.Site with { DecimalLatitude = 91 } },
        { "coordinates-impossible Site S1", Given.Site with { DecimalLongitude = 181 } },
        { "coordinates-zero Site S1", Given.Site with { DecimalLatitude = 0, DecimalLongitude = 0 } },
        { "coordinates-swapped Site S1", Given.Site with { DecimalLatitude = 10, DecimalLongitude = 50 } },
        { "far-from-country Site S1", Given.Site with { DecimalLatitude = 48.5 } },
        { "coordinates-coarse Site S1", Given.Site with { CoordinateUncertaintyMetres = 6000 } },
        { "coordinates-unstated Site S1", Given.Site with { CoordinateUncertaintyMetres = null } },
        { "country-unknown Site S1", Given.Site with { CountryCode = "ZZ" } },
        { "word-unmapped Site S1", Given.Site with { Management = "by the moon" } },
    };

    [Theory]
    [MemberData(nameof(SiteFaults))]
    public void Each_fault_of_a_place_raises_its_flag(string expected, SiteRow site) => Assert.Contains(expected, Flagged(site));

    [Fact]
    public void A_site_in_its_country_or_just_off_it_raises_nothing()
    {
        Assert.Empty(Flagged(Given.Site));
        Assert.Empty(Flagged(Given.Site with { DecimalLatitude = 48.95 }));   // 5.6 km south of the border
    }

    [Fact]
    public void Flags_of_a_sensitive_site_do_not_tell_where_it_is()
    {
        FlagInputs inputs = Given.Inputs(Given.Contribution(site: Given.Site with { CoordinatesSensitive = true, DecimalLatitude = 48.5 }));
        Flag flag = Assert.Single(FlagStep.Run(inputs with { Countries = CountryOutlines.Load(_outlines) }, DecisionList.None).Flags);

        Assert.Equal("far-from-country", flag.Code);
        Assert.Null(flag.Measured);
        Assert.DoesNotContain("km", flag.Explanation, StringComparison.Ordinal);
    }

    [Fact]
    public void A_site_that_moves_between_contributions_is_flagged_once_on_the_newest()
    {
        Contribution later = Given.Contribution(
            header: Given.Header("c2", campaign: "2024-autumn") with { Created = new(2025, 1, 10) },
            site: Given.Site with { DecimalLatitude = 50.01 },
            bags: [.. new[] { Given.FastBag,
                Given.SlowBag }.Select(b => b with { BuriedOn = new(2024, 9, 1), RetrievedOn = new(2024, 12, 1) })]);

        FlagStep.Output flagged = FlagStep.Run(Given.Inputs(Given.Contribution(), later), DecisionList.None);

        Flag flag = Assert.Single(flagged.Flags);
        Assert.Equal(("site-moved", "c2"), (flag.Code, flag.Record.ContributionId));
        Assert.InRange(flag.Measured!.Value, 1100, 1120);   // 0.01 degree of latitude is 1112 m
    }

    [Fact]
    public void A_missing_covariate_is_flagged_with_its_name()
    {
        FlagInputs inputs = Given.Inputs(Given.Contribution()) with
        {
            Covariates = [new ReleasedCovariate { SiteKey = "g1/S1", Covariate = "clay", Unit = "%", Status = "missing" }],
        };

        Flag flag = Assert.Single(FlagStep.Run(inputs, DecisionList.None).Flags);
        Assert.Equal("covariate-missing", flag.Code);
        Assert.Contains("clay", flag.Explanation, StringComparison.Ordinal);
    }

    [Fact]
    public void The_same_bag_sent_again_in_another_contribution_is_flagged_there_and_the_first_stands()
    {
        string[] flagged = Given.Flagged(Given.Contribution(), Given.Contribution(header: Given.Header("c2")));
        Assert.Equal(["bag-repeated Bag b-f", "bag-repeated Bag b-s"], flagged);
        Assert.All(
            FlagStep.Run(Given.Inputs(Given.Contribution(), Given.Contribution(header: Given.Header("c2"))), DecisionList.None).Flags,
                f => Assert.Equal("c2", f.Record.ContributionId));
    }

    [Fact]
    public void A_burial_sent_again_with_other_masses_after_is_noted_on_the_later_contribution()
    {
        BagRow[] mended = [Given.FastBag with { MassFinalGrams = 1.05 }, Given.SlowBag];
        Contribution later = Given.Contribution(header: Given.Header("c2"), bags: mended),
            earlier = Given.Contribution(header: Given.Header("c2") with { Created = new(2024, 8, 1) }, bags: mended),
            elsewhere = Given.Contribution(header: Given.Header("c2"), site: Given.Site with { SiteId = "S2", DecimalLatitude = 50.2 },
                bags: [.. mended.Select(bag => bag with { SiteId = "S2" })]),
            named = Given.Contribution(header: Given.Header("c2"), site: Given.Site with { SiteId = "S2" },
                bags: [.. mended.Select(bag => bag with { SiteId = "S2" })]),
            ofAnother = Given.Contribution(header: Given.Header("c2", "g2"), bags: mended),
            onAnotherDay = Given.Contribution(header: Given.Header("c2"), bags: [.. mended.Select(bag => bag with
            {
                BuriedOn = new(2024, 4, 2),
            })]);
        Assert.Equal(["c2"], Again(later));
        Assert.Equal(["c1"], Again(earlier));
        // another name, the same place
        Assert.Equal(["c2"], Again(named));
        Assert.All(new[] { elsewhere, ofAnother, onAnotherDay, Given.Contribution(header: Given.Header("c2")) }, other =>
            Assert.Empty(Again(other)));

        static string[] Again(Contribution other) => [.. FlagStep.Run(Given.Inputs(Given.Contribution(), other), DecisionList.None).Flags
            .Where(flag => flag.Code == "burial-again").Select(flag => flag.Record.ContributionId)];
    }

    [Fact]
    public void Masses_pasted_to_another_site_are_flagged_on_both_burials()
    {
        Contribution pasted = Given.Contribution() with
        {
            Sites = [Given.Site, Given.Site with { Row = 3, SiteId = "S2" }],
            Bags =
            [
                Given.FastBag, Given.SlowBag,
                Given.FastBag with { BagId = "c-f", BurialId = "c", SiteId = "S2" },
                Given.SlowBag with { BagId = "c-s", BurialId = "c", SiteId = "S2" },
            ],
        };
        Assert.Equal(["masses-repeated Burial b", "masses-repeated Burial c"], Given.Flagged(pasted));
    }

    [Fact]
    public void On_a_coarse_balance_one_agreeing_burial_may_be_chance()
    {
        BagRow fast = Given.FastBag with { BalanceResolutionGrams = 0.05 }, slow = Given.SlowBag with { BalanceResolutionGrams = 0.05 };
        Contribution one = Given.Contribution() with
        {
            Sites = [Given.Site, Given.Site with { Row = 3, SiteId = "S2" }],
            Bags = [fast, slow, fast with { BagId = "c-f", BurialId = "c", SiteId = "S2" },
                slow with { BagId = "c-s", BurialId = "c", SiteId = "S2" }],
        };
        Assert.Empty(Given.Flagged(one));

        BagRow fast2 = fast with { MassFinalGrams = 1.0, Replicate = "2" }, slow2 = slow with { MassFinalGrams = 1.85, Replicate = "2" };
        Contribution two = one with
        {
            Bags =
            [
                .. one.Bags,
                fast2 with { BagId = "d-f", BurialId = "d" }, slow2 with { BagId = "d-s", BurialId = "d" },
                fast2 with { BagId = "e-f", BurialId = "e", SiteId = "S2" }, slow2 with { BagId = "e-s", BurialId = "e", SiteId = "S2" },
            ],
        };
        Assert.Equal(4, Given.Flagged(two).Length);
    }

    [Fact]
    public void The_contribution_that_disagrees_with_most_on_a_lot_is_flagged()
    {
        Contribution[] all =
        [
            Given.Contribution(header: Given.Header("c1", "g1")),
            Given.Contribution(header: Given.Header("c2", "g2")),
            Given.Contribution(header: Given.Header("c3", "g3"), fastLot: Given.FastLot with { HydrolysableFraction = 0.80 }),
        ];
        Flag flag = Assert.Single(FlagStep.Run(Given.Inputs(all), DecisionList.None).Flags);
        Assert.Equal(("lot-disagreement", "c3", 0.80), (flag.Code, flag.Record.ContributionId, flag.Measured));
    }
}
