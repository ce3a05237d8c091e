using DecayAtlas.Contributions.Tests.Questioning;

namespace DecayAtlas.Contributions.Tests.Judging;

public class PlausibilityTests
{
    [Fact]
    public void The_example_is_as_usual_and_its_lost_bag_is_no_slip()
    {
        using Example example = new();
        CheckReport check = Check(example);

        Assert.Empty(check.ToConfirm);
        Assert.True(check.IsReady);
        Assert.Equal(["bag-lost"], check.Burials.Select(burial => burial.RateMissingBecause).OfType<string>());
    }

    /// <summary>S by the published formula (Keuskamp et al. 2013, doi:10.1111/2041-210X.12097) from the example's first burial, worked by
    /// hand: oven-dry, tare 0.5 g, H 0.78; ash was measured of the fast bag alone and is left out.</summary>
    [Fact]
    public void A_burial_gives_what_the_formula_gives()
    {
        using Example example = new();
        CheckedBurial first = Check(example).Burials[0];
        double fast = (1.94 - 0.5) / (4.12 - 0.5), slow = (3.36 - 0.5) / (4.54 - 0.5);

        Assert.Equal(fast, first.FastRemaining!.Value, 1e-12);
        Assert.Equal(slow, first.SlowRemaining!.Value, 1e-12);
        Assert.Equal(1 - (1 - fast) / 0.78, first.Stabilisation!.Value, 1e-9);
        Assert.InRange(first.RateLower95PerDay!.Value, 0, first.RatePerDay!.Value);
        Assert.InRange(first.RateUpper95PerDay!.Value, first.RatePerDay.Value, 1);
    }

    /// <summary>Valid numbers that are wrong as people get them wrong: each is seen in the line that says so.</summary>
    [Theory]
    [InlineData("bags.csv", ",4.12,1.94,", ",4120,1940,", "mass-over-nominal", "meadow-1-1-F")]
    [InlineData("bags.csv", ",4.12,1.94,", ",1.94,4.12,", "fast-remaining", "meadow-1-1")]
    [InlineData("bags.csv", "4.54,3.36,", "4.54,1.36,", "slow-remaining", "meadow-1-1")]
    [InlineData("bags.csv", "4.54,3.36,", "4.54,1.36,", "fast-below-slow", "meadow-1-1")]
    [InlineData("bags.csv", "2024-05-14,2024-08-12,8,intact,yes,,0.01,,,\nmeadow-1-1-S", "2024-05-14,2024-08-12,80,intact,yes,,0.01,,,\nmeadow-1-1-S",
        "depth", "meadow-1-1-F")]
    [InlineData("bags.csv", ",,0.09,2024", ",,0.9,2024", "ash-over-lot", "meadow-1-1-F")]
    [InlineData("bags.csv", ",,0.09,2024", ",,0.0009,2024", "ash-over-lot", "meadow-1-1-F")]
    [InlineData("bags.csv", ",2024-08-13,8,roots", ",2034-08-13,8,roots", "days", "wood-1-1-S")]
    [InlineData("bags.csv", ",2024-08-13,8,roots", ",2034-08-13,8,roots", "exposure-days", "wood-1-1")]
    [InlineData("sites.csv", "47.31025,-11.20417,15,no,ZZ", "47.31025,-11.20417,15,no,", "on-land", "meadow-1")]
    [InlineData("sites.csv", "47.31025,-11.20417,15,no,ZZ", "47.31025,11.20417,15,no,FR", "in-country", "meadow-1")]
    public void What_is_valid_and_wrong_is_seen_before_it_is_called_well(string file, string was, string written, string line, string id)
    {
        using Example example = new Example().Replace(file, was, written);

        CheckReport check = Check(example);

        Assert.True(check.IsValid, string.Join('\n', check.Result.Findings));
        Assert.False(check.IsReady);
        Assert.Contains(id, check.ToConfirm.Single(unusual => unusual.Code == line).Outside);
        Assert.True((check with { IsConfirmed = true }).IsReady);
    }

    /// <summary>The example's lot F-07 allows 3.6 ± 0.3 g of litter in a bag of 0.5 g: 3.80 to 4.40 g. A bag beyond it will not count, so
    /// that the gate does not call it usual.</summary>
    [Theory]
    [InlineData("4.34", true)]
    [InlineData("4.40", true)]
    [InlineData("4.42", false)]
    [InlineData("3.80", true)]
    [InlineData("3.78", false)]
    public void A_mass_is_judged_by_what_its_own_lot_allows_as_the_atlas_counts_it(string gross, bool isUsual)
    {
        using Example example = new Example().Replace("bags.csv", ",4.12,1.94,", $",{gross},1.94,");
        CheckReport check = Check(example);

        Assert.Equal(isUsual, check.ToConfirm.All(line => line.Code != "mass-over-nominal"));
        Assert.Equal(isUsual, !check.Burials[0].Doubts.Contains("mass-initial-off-nominal"));
    }

    /// <summary>A campaign that buries from 20 April to 10 June and digs from 20 July to 20 September: 40 to 153 days, by a
    /// calendar.</summary>
    [Theory]
    [InlineData("2025-08-12", true, true)]
    [InlineData("2025-07-08", true, true)]
    [InlineData("2025-06-20", false, false)]
    public void Days_are_judged_by_the_campaign_that_the_mapping_was_made_for(string dug, bool isNear, bool isLongEnough)
    {
        string table = (AskedSheet.Head("Before (g),After (g)") + AskedSheet.Bags("1", "2.41,1.30", "2.61,2.01")
            + AskedSheet.Bags("2", "2.42,1.31", "2.62,2.02")).Replace("2025-08-12", dug, StringComparison.Ordinal);
        string file = AskedSheet.FileOf(table);
        IReadOnlyList<PlausibilityLine> lines = new CheckReport("table.csv", AskedSheet.Read(file, AskedSheet.Ask(table).Mapping!),
            Example.Today).Plausibility;
        Assert.Equal(isNear, lines.Single(line => line.Code == "campaign-days").IsUsual);
        PlausibilityLine exposure = lines.Single(line => line.Code == "exposure-days");
        Assert.Equal((40, 153, isLongEnough), (exposure.UsualLeast!.Value, exposure.UsualMost!.Value, exposure.IsUsual));
    }

    /// <summary>Innsbruck lies at 47.27 N 11.39 E in Austria (any atlas; from memory).</summary>
    [Fact]
    public void A_place_in_its_country_is_as_usual()
    {
        using Example example = new Example().Replace("sites.csv", "47.31025,-11.20417,15,no,ZZ", "47.27,11.39,15,no,AT");

        Assert.Empty(Check(example).ToConfirm);
    }

    /// <summary>ISO 3166-1, 8.1.3.</summary>
    [Theory]
    [InlineData("ZZ", true)]
    [InlineData("xa", true)]
    [InlineData("QM", true)]
    [InlineData("QA", false)]
    [InlineData("AT", false)]
    [InlineData("XK", false)]
    public void Codes_kept_for_users_are_of_no_country(string code, bool isKept) =>
        Assert.Equal(isKept, Plausibility.IsKeptForUsers(code));

    internal static CheckReport Check(Example example) => new("group", example.Read(), Example.Today);
}
