namespace DecayAtlas.Contributions.Tests;

public class ExampleTests
{
    [Fact]
    public void The_example_contribution_of_the_schema_is_valid_and_read_whole()
    {
        ReadResult result = ContributionReader.Read(Example.Folder, IntakeLimits.Default);

        Assert.Empty(result.Findings);
        Contribution contribution = Assert.IsType<Contribution>(result.Contribution);
        Assert.Equal(new ContributionHeader("example-meadow-and-wood", 1, "example-group", "example-2024", "two-litters-90-days",
            new DateOnly(2024, 9, 2), "CC-BY-4.0", result.ContentHash), contribution.Header);
        Assert.Equal((2, 2, 8, 3),
            (contribution.Sites.Count, contribution.Lots.Count, contribution.Bags.Count, contribution.Samples.Count));
        Assert.Equal(new SiteRow(2, "meadow-1", 47.31025, -11.20417, 15, false, "ZZ", "grassland", "meadow", "organic",
            "mown twice a year, no fertiliser", 212, "north-facing slope")
        {
            SiteName = "Upper meadow",
        }, contribution.Sites[0]);
        Assert.Equal(new LotRow(3, "S-03", LitterRole.Slow, 0.47, 0.04, FractionBasis.AshFree,
            HydrolysableParts.WaterAndAcidSoluble, 0.05, 0.005, null, null, 0.03, 0.003, 0.07, 0.005, 4, 0.30, 0.50, 0.02, 0.6,
            "sequential extraction, lot sheet 2024-02"), contribution.Lots[1]);
        Assert.Equal(new BagRow(2, "meadow-1-1-F", "meadow-1-1", "meadow-1", "A", "1", "F-07", LitterRole.Fast, null, 4.12, 1.94,
            MassBasis.Gross, Drying.Oven, null, null, Drying.Oven, 70, null, null, 0.09, new DateOnly(2024, 5, 14),
            new DateOnly(2024, 8, 12), 8, BagCondition.Intact, true, null, 0.01, null),
            contribution.Bags[0]);
        Assert.Equal(new BagRow(8, "wood-1-2-F", "wood-1-2", "wood-1", "A", "2", "F-07", LitterRole.Fast, null, 4.08, null, MassBasis.Gross,
            Drying.Air, 0.05, null, null, null, null, null, null, new DateOnly(2024, 5, 15), null, 8, BagCondition.Lost, true, null, 0.01,
            "not found, the marker had been dug out"),
            contribution.Bags[6]);
        Assert.Equal(new SampleRow(2, "meadow-1-1-S-its", "meadow-1-1-S", "ITS", "ITS2", "EXAMPLE000001", "a public sequence archive", 214,
            3.62, "sequence variants in 10000 reads drawn", null, null, null, null, null), contribution.Samples[0]);
        Assert.Equal(new SampleRow(4, "meadow-1-1-S-16s", "meadow-1-1-S", "16S rRNA", "V3", null, null, null, null, null, 4.1e9, null,
            "quantitative PCR, plasmid standard", 0.032, "ITS over 16S rRNA copies"), contribution.Samples[2]);
        Assert.Empty(result.OtherWarnings());
        Assert.Equal(("damaged-bag", 7, "roots"),
            (Assert.Single(result.Warnings).Code, result.Warnings[0].Row, result.Warnings[0].Found));
    }

    [Fact]
    public void The_descriptor_has_no_contact_data_in_what_leaves_the_reader()
    {
        ReadResult result = ContributionReader.Read(Example.Folder, IntakeLimits.Default);

        Assert.DoesNotContain("example.org", result.Contribution!.ToString(), StringComparison.Ordinal);
        Assert.DoesNotContain("Example Group", result.Contribution.Header.ToString(), StringComparison.Ordinal);
    }
}
