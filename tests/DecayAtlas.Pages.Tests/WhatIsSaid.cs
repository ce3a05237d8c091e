namespace DecayAtlas.Pages.Tests;

/// <summary>What the pages say, held against what was put in.</summary>
public class WhatIsSaid
{
    [Fact]
    public void A_site_counts_with_the_geometric_mean_of_its_accepted_untreated_burials()
    {
        ReleaseData data = new("r", [Examples.Site("g", "S")],
        [
            Examples.Burial("g", "S", "1", 0.01), Examples.Burial("g", "S", "2", 0.04),
            Examples.Burial("g", "S", "3", 0.9, use: "suspect"), Examples.Burial("g", "S", "4", 0.9, treatment: "warmed"),
                Examples.Burial("g", "S", "5", null),
        ], [], [], [Examples.Contribution("g")], []);

        Assert.Equal(0.02, data.Rates["g/S"].RatePerDay!.Value, 1e-12);
        Assert.Equal(2, data.Rates["g/S"].Burials);
    }

    [Fact]
    public void A_site_is_held_against_others_in_a_similar_climate_and_never_against_its_own_group()
    {
        ReleaseData data = Examples.WarmerIsFaster(40);   // half a degree apart
        SimilarSites beside = new SimilarClimate(data, ClimateNames.Of(data, null, null)).Of(data.SiteByKey["g20/S1"]);

        Assert.Equal(Likeness.WarmthAndRain, beside.Likeness);
        Assert.Equal(8, beside.Sites.Count);   // four on each side within 2 °C
        Assert.DoesNotContain(beside.Sites, s => s.Site.ContributorId == "g20");
    }

    [Fact]
    public void A_site_whose_climate_is_withheld_is_held_against_all_others()
    {
        ReleaseData data = Examples.WarmerIsFaster(10);
        ReleasedSite hidden = Examples.Site("g99", "S1", generalised: true);
        Assert.Equal(Likeness.All, new SimilarClimate(data, ClimateNames.Of(data, null, null)).Of(hidden).Likeness);
    }

    [Fact]
    public void The_class_sheet_says_that_warmer_is_faster_only_where_the_data_say_so()
    {
        string warm = Sheet(Examples.WarmerIsFaster(40));
        Assert.Contains("2.0 times as fast where it is 10 °C warmer", warm, StringComparison.Ordinal);   // the rates were made with Q10 = 2

        ReleaseData made = Examples.WarmerIsFaster(40);
        ReleaseData alike = new("r", made.Sites, made.Burials.Select((b, i) => b with { RatePerDay = i % 2 == 0 ? 0.01 : 0.011 }), [],
            made.Covariates, made.Contributions, []);
        string unclear = Sheet(alike);
        Assert.DoesNotContain("Yes.", unclear, StringComparison.Ordinal);
        Assert.Contains("can&#x27;t tell yet", unclear, StringComparison.Ordinal);

        static string Sheet(ReleaseData data) =>
            SiteMaker.Make(Examples.Inputs(data), Examples.Options(data)).Single(f => f.Path == "class/c-g5.html").Text;
    }

    [Fact]
    public void The_mean_of_S_is_that_of_the_release_over_all_accepted_burials_that_have_one()
    {
        // a burial with a fast bag alone, and one whose slow bag is at its plateau, have an S and no k
        ReleasedBurial withRate = Examples.Burial("g1", "S1", "1", 0.01, s: 0.2),
            atPlateau = Examples.Burial("g1", "S1", "2", null, s: 0.3);
        ReleasedBurial fastAlone = Examples.Burial("g1", "S1", "3", null, s: 0.4) with { SlowBagId = null, SlowRemainingFraction = null };
        ReleasedBurial suspect = Examples.Burial("g1", "S1", "4", 0.01, s: 0.9, use: "suspect"),
            warmed = Examples.Burial("g1", "S1", "5", 0.01, s: 0.9, treatment: "warmed");
        ReleaseData data = new(
            "r", [Examples.Site("g1", "S1")], [withRate, atPlateau, fastAlone, suspect, warmed], [], [], [Examples.Contribution("g1")], []);

        SiteRate rate = data.Rates["g1/S1"];
        Assert.Equal(1, rate.Burials);
        Assert.Equal(0.01, rate.RatePerDay!.Value, 12);
        Assert.Equal(0.3, rate.Stabilisation!.Value, 12);
    }

    /// <summary>Four burials of mean ln k = ln 0.01 and standard deviation 0.1: with nothing shared the interval of the geometric mean is
    /// that of Student's t of three degrees of freedom, 3.182 (any table), so 0.01 e^(±3.182 · 0.1/2), 0.0085 to 0.0117.</summary>
    [Fact]
    public void A_group_that_sent_only_means_finds_its_results_and_no_class_sheet()
    {
        ReleaseData data = new("r", [Examples.Site("g1", "S1"), Examples.Site("g2", "S1")],
            [Examples.Burial("g2", "S1", "1", 0.01)], [], [], [Examples.Contribution("g1"), Examples.Contribution("g2")], [],
            results: [Examples.Summarised("c-g1", "g1/S1", "R1", 4, 0.01, 0.1)]);

        Dictionary<string, string> files = SiteMaker.Make(Examples.Inputs(data), Examples.Options(data))
            .ToDictionary(f => f.Path, f => f.Text);

        string page = files["contributions/c-g1.html"];
        Assert.Contains("1 of its 1 results are accepted.", page, StringComparison.Ordinal);
        Assert.Contains("0.0100 (0.0085 – 0.0117)", page, StringComparison.Ordinal);
        Assert.Contains("<td>summarised</td>", page, StringComparison.Ordinal);
        Assert.DoesNotContain("burials count", page, StringComparison.Ordinal);
        Assert.DoesNotContain("None of your", page, StringComparison.Ordinal);
        Assert.DoesNotContain("class/c-g1.html", page + files["contributions/index.html"], StringComparison.Ordinal);
        Assert.DoesNotContain("class/c-g1.html", files.Keys);
        Assert.Contains("class/c-g2.html", files.Keys);
    }

    [Theory]
    [InlineData("the pair is told apart", "Das Paar lässt sich unterscheiden", 0.01)]
    [InlineData("the pair is not told apart", "Das Paar lässt sich nicht unterscheiden", 0.5)]
    [InlineData("none of 2 pairs is told apart", "Keines von 2 Paaren lässt sich unterscheiden", 0.5, 0.6)]
    [InlineData("1 of 2 pairs is told apart", "1 von 2 Paaren lässt sich unterscheiden", 0.01, 0.6)]
    [InlineData("all 2 pairs are told apart", "Alle 2 Paare lassen sich unterscheiden", 0.01, 0.02)]
    [InlineData("2 of 3 pairs are told apart", "2 von 3 Paaren lassen sich unterscheiden", 0.01, 0.02, 0.5)]
    public void How_many_pairs_of_groups_are_told_apart_is_said_whatever_their_number(
        string english, string german, params double[] probabilities)
    {
        string[] names = ["none", .. probabilities.Select((_, i) => $"other {i}")];
        ReleasedAnswers answers = new([],
        [
            .. probabilities.Select((p, i) => new ReleasedComparison
            {
                Of = "k", By = "management", First = names[0], Second = names[i + 1], Ratio = 1.5, HolmPValue = p, Sentence = "-",
            }),
        ])
        {
            Groups = [.. names.Select((n, i) => new ReleasedGroup
            {
                Of = "k", By = "management", Group = n, Burials = 9, Sites = 3, RatePerDay = 0.01 + (0.001 * i),
            })],
        };
        ReleaseData data = Examples.WarmerIsFaster(3);

        Dictionary<string, string> files = SiteMaker.Make(Examples.Inputs(data) with { Answers = answers }, Examples.Options(data))
            .ToDictionary(f => f.Path, f => f.Text);

        Assert.Contains($"<summary>management: {english}</summary>", files["answers.html"], StringComparison.Ordinal);
        Assert.Contains($"<summary>Bewirtschaftung: {german}</summary>", files["de/answers.html"], StringComparison.Ordinal);
        Assert.Contains($"Groups compared by <i>k</i>: {english}.", files["index.html"], StringComparison.Ordinal);
        Assert.Contains("not managed", files["answers.html"], StringComparison.Ordinal);
        Assert.Contains("nicht bewirtschaftet", files["de/answers.html"], StringComparison.Ordinal);
        Assert.DoesNotContain(">none<", files["answers.html"], StringComparison.Ordinal);
    }

    [Fact]
    public void Changes_since_the_last_release_are_counted()
    {
        ReleaseData before = Examples.WarmerIsFaster(10), grown = Examples.WarmerIsFaster(11);
        ReleaseData now = new("r2", grown.Sites,
            grown.Burials
                .Select(b => b.ContributionId == "c-g3" ? b with { RatePerDay = 0.5, Use = "suspect" }
                    : b.ContributionId == "c-g10" ? b : before.Burials.Single(x => x.ContributionId == b.ContributionId)),
            [], grown.Covariates, grown.Contributions.Where(c => c.ContributionId != "c-g4")
                .Select(c => c.ContributionId == "c-g2" ? c with { Revision = 2 } : c), []);

        ChangesSince changes = ChangesSince.Of(before, now);

        Assert.Equal(["c-g10"], changes.Added);
        Assert.Equal(["c-g2"], changes.Revised);
        Assert.Equal(["c-g4"], changes.Gone);
        Assert.Equal(1, changes.RatesChanged);
        Assert.Equal(1, changes.UsesChanged);
        Assert.Equal(new CountChange("burials", 10, 11), changes.Counts.Single(c => c.Table == "burials"));
    }

    [Fact]
    public void Quantiles_are_those_of_R()
    {
        // R 4.2: quantile(c(1, 2, 4, 8, 16), c(.05, .25, .5, .9)) gives 1.2, 2, 4, 12.8 (type 7)
        double[] values = [1, 2, 4, 8, 16];
        Assert.Equal([1.2, 2, 4, 12.8], new[] { 0.05, 0.25, 0.5, 0.9 }.Select(p => Math.Round(Quantiles.Of(values, p), 10)));
    }

    [Fact]
    public void The_same_inputs_make_the_same_files()
    {
        ReleaseData data = Examples.WarmerIsFaster(12);
        SiteFile[] Make() => [.. SiteMaker.Make(Examples.Inputs(data), Examples.Options(data))];
        Assert.Equal(Make(), Make());
    }

    [Fact]
    public void An_atlas_without_anything_still_has_its_pages()
    {
        ReleaseData data = new("r", [], [], [], [], [], []);
        SiteFile[] files = [.. SiteMaker.Make(Examples.Inputs(data), Examples.Options(data))];
        Assert.Contains(files, f => f.Path == "index.html");
        Assert.Contains(files, f => f.Path == "de/class/index.html");
    }
}
