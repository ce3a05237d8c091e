namespace DecayAtlas.Pipeline.Tests;

/// <summary>A released sample carries what its burial gives, and of a sensitive site nothing that tells the place.</summary>
public class SamplesOfBurials
{
    private static readonly SampleRow Sample = new(2, "x", "b-s", "16S rRNA", "V4", "ACC1", "an archive", null, null, null, 4.1e9, null,
        "qPCR", null, null);

    [Fact]
    public void Two_samples_of_one_bag_have_the_same_k_and_S_and_the_fast_bag_s_sample_too()
    {
        ReleasedSample[] released = Released(Given.Contribution() with
        {
            Samples = [Sample, Sample with { SampleId = "w", TargetGene = "ITS" }, Sample with { SampleId = "a", BagId = "b-f" }],
        });
        Burial burial = Index(Given.Contribution()).Burials[0];

        Assert.Equal([("a", "fast"), ("w", "slow"), ("x", "slow")], released.Select(s => (s.SampleId, s.Role)));
        Assert.All(released, s =>
        {
            Assert.Equal(burial.RatePerDay.Value!.Value, s.RatePerDay);
            Assert.Equal(burial.RatePerDay.Value!.Uncertainty, s.RateUncertaintyPerDay);
            Assert.Equal(burial.StabilisationFactor.Value!.Value, s.Stabilisation);
            Assert.Equal(burial.StabilisationFactor.Value!.Uncertainty, s.StabilisationUncertainty);
            Assert.Equal(("c1", "b", "g1/S1", "2024-spring", "accepted"), (s.ContributionId, s.BurialId, s.SiteKey, s.Campaign, s.Use));
            Assert.Equal((new DateOnly(2024, 7, 1), 8.0, 100.0), (s.RetrievedOn, s.DepthCentimetres, s.ElevationMetres));
        });
    }

    [Fact]
    public void A_sample_of_a_burial_without_k_is_released_without_k()
    {
        ReleasedSample released = Assert.Single(Released(Given.Contribution(bags: [Given.SlowBag]) with { Samples = [Sample] }));

        Assert.Null(released.RatePerDay);
        Assert.Null(released.Stabilisation);
        Assert.Equal(4.1e9, released.GeneCopiesPerGramDry);
    }

    [Fact]
    public void The_same_ids_in_two_contributions_are_two_bags()
    {
        BagRow[] others = [Given.FastBag, Given.SlowBag with { MassFinalGrams = 1.7 }];
        ReleasedSample[] released = Released(
            Given.Contribution() with { Samples = [Sample] },
            Given.Contribution(Given.Header("c2", campaign: "2025-spring"), bags: others) with { Samples = [Sample] });

        Assert.Equal([("c1", "2024-spring"), ("c2", "2025-spring")], released.Select(s => (s.ContributionId, s.Campaign)));
        Assert.True(released[1].RatePerDay > released[0].RatePerDay);
    }

    [Fact]
    public void Of_a_sensitive_site_neither_elevation_nor_the_accession_whose_record_names_the_place_is_released()
    {
        ReleasedSample released = Assert.Single(Released(
            Given.Contribution(site: Given.Site with { CoordinatesSensitive = true }) with { Samples = [Sample] }));

        Assert.Null(released.ElevationMetres);
        Assert.Null(released.Accession);
        Assert.Null(released.Archive);
        Assert.Null(released.GeneCopiesMethod);
        Assert.NotNull(released.GeneCopiesPerGramDry);
        Assert.NotNull(released.RatePerDay);
        Assert.Equal("16S rRNA", released.TargetGene);
    }

    private static IndexStep.Output Index(params Contribution[] contributions) =>
        IndexStep.Run(contributions, MeasurementAssumptions.Default, []);

    private static ReleasedSample[] Released(params Contribution[] contributions)
    {
        Verdicts verdicts = FlagStep.Run(Given.Inputs(contributions), DecisionList.None).Verdicts;
        return [.. ReleasedRows.SamplesOf(contributions, Index(contributions), verdicts)];
    }
}
