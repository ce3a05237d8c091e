namespace DecayAtlas.Demo.Tests;

/// <summary>Faults are where the list says, and nowhere else. The limits are those of the project's flags (common practice, no
/// source).</summary>
public sealed class PlantingTests(ScenarioFixture scenario)
{
    // Every code of the flag registry that can be planted.
    public static readonly string[] Codes =
    [
        "mass-gain", "mass-gain-within-weighing", "loss-exceeds-litter", "fast-loss-beyond-hydrolysable", "slow-loss-at-plateau",
        "retrieved-before-buried", "retrieved-in-future", "exposure-short", "exposure-long", "depth-out-of-range", "unused-material-no",
        "tare-missing", "balance-coarse", "balance-unstated", "bag-damaged", "bag-lost", "pair-incomplete", "pair-dates-differ",
        "role-differs-from-lot", "mass-initial-off-nominal", "ash-without-lot-ash", "drying-not-oven", "coordinates-impossible",
        "coordinates-zero", "coordinates-swapped", "coordinates-coarse", "coordinates-unstated", "site-moved", "covariate-missing",
        "far-from-country", "word-unmapped", "bag-repeated", "masses-repeated", "lot-disagreement", "replicate-outlier",
        "contributor-bias", "digit-preference", "masses-repeated-across", "multivariate-outlier", "surprise",
    ];

    [Fact]
    public void Each_flag_code_is_planted_for_its_own_sake_at_least_twice()
    {
        foreach (string code in Codes)
            Assert.True(scenario.Planted.Count(fault => fault.Code == code && fault.FollowsFrom is null) >= 2, code);
    }

    [Fact]
    public void Every_planted_fault_names_a_record_of_the_contribution_s_own_tables()
    {
        foreach (PlantedFault fault in scenario.Planted.Where(fault => fault.RecordType != "contribution"))
        {
            Contribution contribution = scenario.Contributions.Single(c => c.Header.ContributionId == fault.ContributionId);
            Assert.Contains(fault.RecordId, fault.RecordType switch
            {
                "bag" => contribution.Bags.Select(bag => bag.BagId),
                "burial" => contribution.Bags.Select(bag => bag.BurialId),
                "site" => contribution.Sites.Select(site => site.SiteId),
                _ => contribution.Lots.Select(lot => lot.LotId),
            });
        }
    }

    [Fact]
    public void About_three_to_seven_percent_of_the_burials_carry_a_fault()
    {
        // a series is a design and no fault, what a whole group does not say of its litter is none of a burial, and cold soil is none
        int faulty = scenario.Contributions.SelectMany(c => c.Bags, (c, bag) => (c.Header.ContributionId, bag))
            .Where(pair => scenario.IsListed(pair.ContributionId, "bag", pair.bag.BagId, but: "initial-water-unstated")
                || scenario.IsListed(pair.ContributionId, "burial", pair.bag.BurialId, but: "plateau-not-reached"))
            .Where(pair => !scenario.IsSeries(pair.ContributionId))
            .Select(pair => (pair.ContributionId, pair.bag.BurialId)).Distinct().Count();
        Assert.InRange((double)faulty / scenario.Summary.Burials, 0.03, 0.07);
    }

    [Fact]
    public void A_bag_that_is_not_listed_keeps_inside_every_limit()
    {
        foreach ((Contribution contribution, BagRow bag, LotRow lot) in SoundBags())
        {
            string where = $"{contribution.Header.ContributionId} {bag.BagId}";
            int days = bag.RetrievedOn!.Value.DayNumber - bag.BuriedOn.DayNumber;
            Assert.True(days is >= 60 and <= 120, where);
            Assert.True(bag.RetrievedOn < contribution.Header.Created, where);
            Assert.True(bag.DepthCentimetres is >= 7 and <= 9, where);
            Assert.True(bag.BalanceResolutionGrams <= 0.05, where);
            Assert.Equal(lot.Role, bag.Role);
            Assert.Equal(BagCondition.Intact, bag.Condition);
            Assert.Equal(Drying.Oven, bag.Drying);
            Assert.True(bag.UnusedMaterial, where);
            double litter = bag.MassInitialGrams!.Value - (bag.MassBasis == MassBasis.Gross ? lot.TareGrams!.Value : 0);
            // exactly at the tolerance is within it
            Assert.True(Math.Abs(litter - lot.LitterMassNominalGrams!.Value) <= lot.LitterMassToleranceGrams + 1e-9, where);
            Assert.True(bag.MassFinalGrams < bag.MassInitialGrams, where);
        }
    }

    [Fact]
    public void Masses_are_written_in_whole_steps_of_the_balance()
    {
        foreach ((Contribution contribution, BagRow bag, _) in SoundBags())
        {
            double steps = bag.MassFinalGrams!.Value / bag.BalanceResolutionGrams!.Value;
            Assert.True(
                Math.Abs(steps - Math.Round(steps)) < 1e-6, $"{contribution.Header.ContributionId} {bag.BagId}: {bag.MassFinalGrams}");
        }
    }

    [Fact]
    public void No_two_burials_at_different_sites_share_all_four_masses_unless_it_was_planted()
    {
        IEnumerable<IGrouping<string, (Contribution c, BagRow[] Bags)>> repeated = scenario.Contributions
            .SelectMany(c => c.Bags.GroupBy(bag => bag.BurialId), (c, bags) => (c, Bags: bags.OrderBy(bag => bag.Role).ToArray()))
            .Where(pair => pair.Bags.Length == 2 && !scenario.IsListed(pair.c.Header.ContributionId, "burial", pair.Bags[0].BurialId)
                && !pair.Bags.Any(bag => scenario.IsListed(pair.c.Header.ContributionId, "bag", bag.BagId)))
            .GroupBy(pair => string.Join('|', pair.Bags.SelectMany(bag => new[] { bag.MassInitialGrams, bag.MassFinalGrams })))
            .Where(group => group.Count() > 1);
        Assert.Empty(repeated);
    }

    private IEnumerable<(Contribution Contribution, BagRow Bag, LotRow Lot)> SoundBags() =>
        from contribution in scenario.Contributions
        let lots = contribution.Lots.ToDictionary(lot => lot.LotId)
        from bag in contribution.Bags
        where !scenario.IsListed(contribution.Header.ContributionId, "bag", bag.BagId)
            && !scenario.IsListed(contribution.Header.ContributionId, "burial", bag.BurialId)
        select (contribution, bag, lots[bag.LotId]);
}
