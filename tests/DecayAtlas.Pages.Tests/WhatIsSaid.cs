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
    public void The_class_sheet_says_that_warmer_is_faster_only_where_the_release_says_so()
    {
        string warm = Sheet(Response("linear", 2.04, 1.9, 2.2));
        Assert.Contains(
            "2.0 times as fast at 15 °C as at 5 °C, if both places are equally moist (the data allow 1.9 to 2.2 times)", warm,
            StringComparison.Ordinal);
        Assert.DoesNotContain("warmth alone", warm, StringComparison.Ordinal);
        // at the ends of its line, by hand: 0.01 · 2.04^((0 - 10)/10) and 0.01 · 2.04^((15 - 10)/10)
        Assert.Contains("the line goes from 0.0049 per day at 0 to 0.0143 per day at 15", warm, StringComparison.Ordinal);

        string unclear = Sheet(Response("linear", 1.4, 0.8, 2.4));
        Assert.DoesNotContain("Yes.", unclear, StringComparison.Ordinal);
        Assert.Contains("can&#x27;t tell yet. At 40 sites, the rate at 15 °C may be anything from 0.8 to 2.4 times", unclear,
            StringComparison.Ordinal);
        Assert.Contains("too few sites have a temperature", Sheet(), StringComparison.Ordinal);
        Assert.Contains(
            "too few sites have a temperature", Sheet(Response("none", 2, 1.9, 2.1) with { Sites = 9 }), StringComparison.Ordinal);
    }

    [Fact]
    public void The_class_sheet_tells_what_moisture_takes_off_and_names_it_where_nothing_is_taken_off()
    {
        ReleasedWarmth held = Response("linear", 2.04, 1.9, 2.2);
        string both = Sheet(held, Response("none", 2.7, 2.5, 2.9) with { Rank = 3 });
        Assert.Contains("2.0 times as fast", both, StringComparison.Ordinal);
        // one factor is enough for a class; the other line stands in the picture alone
        Assert.DoesNotContain("2.7 times", both, StringComparison.Ordinal);
        Assert.Contains(">warmth alone</text>", both, StringComparison.Ordinal);
        string same = Sheet(held, Response("none", 2.01, 1.8, 2.3) with { Rank = 3 });
        Assert.DoesNotContain(">warmth alone</text>", same, StringComparison.Ordinal);
        string alone = Sheet(Response("none", 2.7, 2.5, 2.9));
        Assert.Contains("that is still in this number", alone, StringComparison.Ordinal);
        Assert.DoesNotContain("equally moist", alone, StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_set_aside_is_told_beside_the_response_and_moisture_only_where_there_is_one()
    {
        ReleaseData data = Examples.WarmerIsFaster(40);
        ReleasedWarmth bare = Response("none", 2.04, 1.9, 2.2);
        string page = Page([bare with { SetAsideBurials = 29, SetAsideSites = 12, SetAsideMeanCelsius = 2.25, MeanCelsius = 11.5 }]),
            without = Page([bare with { SetAsideBurials = 0 }]), held = Page([Response("linear", 2.04, 1.9, 2.2), bare with { Rank = 2 }]);
        Assert.Contains("Burials set aside, since their fast litter was dug up before its plateau: 29; their sites: 12. These sites have "
            + "2.3 °C in the mean, those of the burials that took part 11.5 °C. By weighed burials alone it would be 1.92 (1.80 to 2.05) "
            + "instead of 2.02 if they counted as they are, and 2.22 (2.10 to 2.35)", page, StringComparison.Ordinal);
        Assert.DoesNotContain("set aside", without, StringComparison.Ordinal);
        Assert.DoesNotContain("oisture", without, StringComparison.Ordinal);
        Assert.Contains("moisture goes with warmth", held, StringComparison.Ordinal);

        string Page(ReleasedWarmth[] told) => SiteMaker.Make(Examples.Inputs(data) with
        {
            Answers = new([], [])
            {
                Warmth = told,
                Sensitivity = [Supposed("plateau-taken", 1.92, 1.80, 2.05), Supposed("plateau-taken-corrected", 2.22, 2.10, 2.35)],
            },
        }, Examples.Options(data)).Single(f => f.Path == "answers.html").Text;

        ReleasedSensitivity Supposed(string id, double value, double lower, double upper) => new()
        {
            Supposition = id,
            Supposed = "",
            Quantity = "warmth-k",
            Compared = 1,
            Changed = 0,
            WarmthAsReleased = 2.02,
            WarmthAsSupposed = value,
            WarmthLower95 = lower,
            WarmthUpper95 = upper,
            Sentence = "",
        };
    }

    [Theory]
    [InlineData(false, "Without them no answer on this page changes.")]
    [InlineData(true, "Answers on this page that change without them: 1 of 2; where one does, it is said.")]
    public void What_noted_burials_change_is_said_once(bool changes, string said)
    {
        ReleaseData data = Examples.WarmerIsFaster(40);
        ReleasedWarmth with = Response("none", 2.04, 1.9, 2.2);
        string page = SiteMaker.Make(Examples.Inputs(data) with
        {
            Answers = new([], [])
            {
                Warmth = [with],
                Noted = [Noted("warmth", changes), Noted("trend", false)],
                WithoutNoted = new([], []) { Warmth = [with with { Ratio = 1.5 }] },
            },
        }, Examples.Options(data)).Single(f => f.Path == "answers.html").Text;
        Assert.Contains(
            "A note casts doubt on 62 of the burials that count here, of 3 contributions. " + said, page, StringComparison.Ordinal);
        Assert.Equal(changes, page.Contains("Without the noted burials it is 1.50", StringComparison.Ordinal));

        ReleasedNotedAnswer Noted(string answer, bool changes) => new()
        {
            Answer = answer,
            Of = "k",
            NotedBurials = 62,
            NotedContributions = 3,
            ConclusionChanges = changes,
            Sentence = "",
        };
    }

    [Fact]
    public void Burials_of_treated_plots_are_not_missed_in_the_rate_of_their_place()
    {
        ReleaseData data = new("r", [Examples.Site("g1", "S1")],
            [
                .. Enumerable.Range(0, 4).Select(i => Examples.Burial("g1", "S1", $"{i}", 0.01)),
                .. Enumerable.Range(4, 4).Select(i => Examples.Burial("g1", "S1", $"{i}", 0.02, treatment: "warmed")),
            ], [], [], [Examples.Contribution("g1")], []);
        Dictionary<string, string> files = SiteMaker.Make(Examples.Inputs(data), Examples.Options(data))
            .ToDictionary(f => f.Path, f => f.Text);
        string page = files["contributions/c-g1.html"];
        Assert.Contains("4 of 8 burials lay in treated plots.", page, StringComparison.Ordinal);
        Assert.Contains("Burials in treated plots tell what the treatment does", page, StringComparison.Ordinal);
        Assert.DoesNotContain("Rests on", page, StringComparison.Ordinal);
        Assert.Contains("4 von 8 Vergrabungen lagen in behandelten Flächen", files["de/contributions/c-g1.html"], StringComparison.Ordinal);
    }

    [Fact]
    public void The_slowest_of_all_is_slower_than_every_other_and_not_than_only_none()
    {
        ReleaseData data = Examples.WarmerIsFaster(40);
        Dictionary<string, string> files = SiteMaker.Make(Examples.Inputs(data), Examples.Options(data))
            .ToDictionary(f => f.Path, f => f.Text);
        Assert.Contains("That is slow: none of ", files["contributions/c-g0.html"], StringComparison.Ordinal);
        Assert.Contains("Das ist langsam: Keiner von ", files["de/contributions/c-g0.html"], StringComparison.Ordinal);
        Assert.DoesNotContain(files.Values, f => f.Contains("only 0 of", StringComparison.Ordinal));
        Assert.Contains("That is fast: all ", files["contributions/c-g39.html"], StringComparison.Ordinal);
    }

    [Fact]
    public void A_number_that_raised_a_flag_has_its_quantity_in_German_as_well()
    {
        ReleasedFlag flag = new()
        {
            Code = "exposure-short",
            Severity = "suspect",
            RecordKind = "bag",
            RecordId = "1",
            ContributionId = "c",
            Measured = 24,
            Limit = 60,
            Unit = "d",
            Explanation = "The bag lay 24 days.",
        };
        Assert.Equal("Liegezeit 24 Tage, Grenze 60 Tage", FlagWords.Finding(flag, Language.Find("de")!).ToString());
    }

    [Fact]
    public void The_page_of_answers_tells_warmth_and_change_or_why_it_does_not()
    {
        ReleaseData data = Examples.WarmerIsFaster(40);
        string page = Page(new([], [])
        {
            Warmth =
            [
                Response("linear", 2.04, 1.9, 2.2), Response("none", 2.7, 2.5, 2.9) with { Rank = 3 },
                new ReleasedWarmth { Of = "s", Sentence = "Why not." },
            ],
            Trend = [new ReleasedTrend
            {
                Of = "k",
                Campaigns = 3,
                Burials = 90,
                Sites = 40,
                SitesDugAgain = 7,
                Ratio = 0.96,
                RatioLower95 = 0.53,
                RatioUpper95 = 1.74,
                DegreesOfFreedom = 1,
                Sentence = "",
            }],
        });
        Assert.Contains(
            "At 20 °C <i>k</i> is 2.04 times what it is at 10 °C (95 % interval 1.90 to 2.20, 40 sites). Moisture is held equal.", page,
            StringComparison.Ordinal);
        Assert.Contains("With nothing but warmth counted, and all that goes with it, it is 2.70 (2.50 to 2.90).", page,
            StringComparison.Ordinal);
        Assert.Contains("Of <i>S</i> this release does not tell it: Why not.", page, StringComparison.Ordinal);
        Assert.Contains("No change of <i>k</i> over 3 campaigns is shown: a year may multiply it by 0.53 to 1.74", page,
            StringComparison.Ordinal);
        Assert.Contains("few campaigns say little", page, StringComparison.Ordinal);
        Assert.DoesNotContain("id=\"warmth\"", Page(ReleasedAnswers.None), StringComparison.Ordinal);

        string Page(ReleasedAnswers answers) => SiteMaker.Make(Examples.Inputs(data) with { Answers = answers }, Examples.Options(data))
            .Single(f => f.Path == "answers.html").Text;
    }

    private static string Sheet(params ReleasedWarmth[] told)
    {
        ReleaseData data = Examples.WarmerIsFaster(40);
        PagesInputs inputs = Examples.Inputs(data) with { Answers = new([], []) { Warmth = told } };
        return SiteMaker.Make(inputs, Examples.Options(data)).Single(f => f.Path == "class/c-g5.html").Text;
    }

    private static ReleasedWarmth Response(string moisture, double q10, double lower, double upper) => new()
    {
        Of = "k",
        Form = "q10",
        MoistureTerm = moisture,
        Rank = 1,
        Temperature = "air_temperature",
        Moisture = moisture == "none" ? null : "soil_moisture",
        Sites = 40,
        ColdestCelsius = 0,
        WarmestCelsius = 15,
        Ratio = q10,
        RatioLower95 = lower,
        RatioUpper95 = upper,
        Parameter = q10,
        RateAtTenPerDay = 0.01,
        Sentence = "",
    };

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
        Assert.Contains("1 of its 1 results is accepted.", page, StringComparison.Ordinal);
        Assert.Contains(">0.0100</span> <span class=\"whole\">(0.0085 – 0.0117)<", page, StringComparison.Ordinal);
        Assert.Contains(">summarised</td>", page, StringComparison.Ordinal);
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
                Of = "k", By = "management", First = names[0], Second = names[i + 1], Ratio = 1.5, FamilyPValue = p, Sentence = "-",
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

        // in the list of narrow screens every pair stands once, those told apart first
        string list = files["answers.html"].Split("<div class=\"pairs\">")[1].Split("</div>")[0];
        int told = probabilities.Count(p => p < 0.05), pairs = list.Split("<li>").Length - 1;
        Assert.Equal(probabilities.Length, pairs);
        Assert.Equal(told, list.Split("Not told apart")[0].Split("<li>").Length - 1);
        Assert.Equal(told, list.Split("<strong>").Length - 1);
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
    public void Where_nothing_changed_one_sentence_says_so_and_no_table_of_zeros_stands()
    {
        ReleaseData data = Examples.WarmerIsFaster(10), more = Examples.WarmerIsFaster(11);

        string same = Section(data), grown = Section(more);
        Assert.Contains("Nothing changed since release 0123456789ab", same, StringComparison.Ordinal);
        Assert.DoesNotContain("<table", same, StringComparison.Ordinal);
        // bags and flags, of which there are none, are in neither
        Assert.Equal(3, grown.Split("<tbody>")[1].Split("<tr>").Length - 1);
        Assert.DoesNotContain("Nothing changed", grown, StringComparison.Ordinal);

        string Section(ReleaseData now) => SiteMaker.Make(Examples.Inputs(now, data), Examples.Options(now))
            .Single(f => f.Path == "index.html").Text.Split("<section id=\"changes\">")[1].Split("</section>")[0];
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
