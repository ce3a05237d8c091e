namespace DecayAtlas.Questions.Tests.Sensitivity;

/// <summary>Whole releases under suppositions.</summary>
public class SupposedReleases
{
    // scatter of a few per cent between sites, so that 20 per cent between groups stand out and none do not
    private static readonly double[] SiteFactors = [0.97, 1.02, 0.99, 1.03, 0.98, 1.01, 1.0, 1.02];

    /// <summary>Forests and meadows of one k; the meadows' litter held 10 per cent of water before burial, and nobody said so.</summary>
    private static SmallRelease WithUnspokenWater()
    {
        SmallRelease release = new();
        (string, double?, double)[] groups = [("forest", null, 1), ("meadow", 0.10, -1)];
        foreach ((string ecosystem, double? water, double turn) in groups)
        {
            for (int i = 0; i < SiteFactors.Length; i++)
            {
                string site = $"{ecosystem}{i}";
                release.Site(site, ecosystem);
                for (int b = 0; b < 2; b++)
                    release.Bury(site, b, k: 0.01 * Math.Pow(SiteFactors[i], turn) * (1 + 0.01 * b), water: water);
            }
        }

        return release;
    }

    private static ReleasedSensitivity RowOf(SensitivityAnswer answer, string supposition, string quantity) =>
        answer.Rows.Single(r => r.Supposition == supposition && r.Quantity == quantity);

    [Fact]
    public void A_difference_made_of_water_alone_vanishes_where_the_water_is_supposed_and_the_sentence_says_so()
    {
        SensitivityAnswer answer = SensitivityQuestion.Ask(WithUnspokenWater(), SmallRelease.Basis);

        Assert.Equal((32, 16, 0, 0), (answer.Burials, answer.Sites, answer.SitesLeftOut, answer.NotRemade));
        ReleasedSensitivity most = RowOf(answer, "initial-water-most", "ecosystem");
        Assert.Equal((1, 1), (most.Compared, most.Changed));
        Assert.Equal("Of 1 pair of ecosystem 1 would be concluded otherwise: meadow and forest would no longer be told apart.",
            most.Sentence);
        ReleasedSensitivity none = RowOf(answer, "initial-water-none", "ecosystem");
        Assert.Equal(0, none.Changed);
        Assert.Equal("What is concluded of 1 pair of ecosystem would stay.", none.Sentence);
    }

    [Fact]
    public void Burials_of_which_water_was_said_do_not_move_and_the_others_do()
    {
        ReleasedSensitivity k = RowOf(SensitivityQuestion.Ask(WithUnspokenWater(), SmallRelease.Basis), "initial-water-most", "k");

        Assert.Equal(32, k.Compared);
        Assert.Equal(16, k.Concerned);                  // half are oven-dried; more water can only lower the k of the rest
        Assert.InRange(k.Lower5!.Value, 0.7, k.Median!.Value);
        Assert.InRange(k.Upper95!.Value, k.Median.Value, 0.9);
        Assert.Contains("the 16 it concerns, of 32 burials", k.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void A_window_that_no_burial_falls_in_is_a_mistake_of_the_question()
    {
        ConfigurationException told = Assert.Throws<ConfigurationException>(
            () => SensitivityQuestion.Ask(WithUnspokenWater(), SmallRelease.Basis, new OwnSupposition(null, null, null, (1, 3), null)));
        Assert.Contains("none of the 32 burials", told.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_wider_window_takes_in_what_only_the_days_set_aside()
    {
        SmallRelease release = new();
        release.Site("a", "forest");
        release.Bury("a", 1);
        release.Bury("a", 2, days: 50, use: "exposure-short");
        release.Bury("a", 3, days: 50, use: "coordinates-coarse,exposure-short");

        ReleasedSensitivity wide = RowOf(SensitivityQuestion.Ask(release, SmallRelease.Basis), "window-wide", "k");

        Assert.Equal((1, 0, 1), (wide.Compared, wide.Gone, wide.Come));
        Assert.Equal("k of 1 burial would be the same; 1 burial would come in.", wide.Sentence);
    }

    [Fact]
    public void Burials_short_of_their_plateau_come_in_where_that_is_supposed()
    {
        SmallRelease release = new();
        release.Site("a", "forest");
        release.Bury("a", 1);
        release.Bury("a", 2, k: 0.003, use: "plateau-not-reached");

        SensitivityAnswer answer = SensitivityQuestion.Ask(release, SmallRelease.Basis);

        Assert.Equal(1, answer.Burials);
        Assert.Equal(1, RowOf(answer, "plateau-taken", "k").Come);
        Assert.Equal(0, RowOf(answer, "plateau-corrected", "k").Come);
        // the k and S of one site: its mean falls with the slow burial, by the root of 0.003/0.01
        Assert.Equal(Math.Sqrt(0.3), RowOf(answer, "plateau-taken", "site-k").Median!.Value, 9);
    }

    /// <summary>Sites from -4 to 24 °C whose k follows Lloyd and Taylor 1994 (308.56 K, from memory), the fast litter 8 times as fast: dug
    /// up after 90 days the coldest are set aside, and none of the others is quite at its plateau.</summary>
    [Fact]
    public void The_response_to_warmth_is_told_with_what_was_set_aside_and_corrected_it_is_the_true_one()
    {
        SmallRelease release = new() { HasPlots = true };
        for (int i = 0; i < 24; i++)
        {
            double celsius = -4 + 28 * i / 23.0;
            double k = 0.008 * Math.Exp(308.56 * (1 / 56.02 - 1 / (celsius + 46.02))) * SiteFactors[i % SiteFactors.Length];
            double reached = 1 - Math.Exp(-8 * k * 90), s = 0.25 * SiteFactors[3 * i % SiteFactors.Length];
            string site = $"s{i:00}";
            release.Site(site, "forest");
            release.Warmth(site, celsius);
            string? use = reached < 0.9 ? "plateau-not-reached" : null;
            for (int b = 0; b < 2; b++)
                release.Bury(site, b, k * (1 + 0.01 * b), s * (1 - 0.02 * b), use: use, reached: reached);
        }

        SensitivityAnswer answer = SensitivityQuestion.Ask(
            release, SmallRelease.Basis with { Warmth = new WarmthRequest("temperature", null, []) });

        // 308.56 · (1/56.02 - 1/66.02) by hand
        double truth = Math.Exp(308.56 * 0.00270384);
        ReleasedSensitivity asReleased = RowOf(answer, "plateau-corrected", "warmth-k"), taken = RowOf(answer, "plateau-taken", "warmth-k"),
            both = RowOf(answer, "plateau-taken-corrected", "warmth-k");
        // what the site factors scatter by, 2 % over 24 sites of some 8 K about their mean: 1 % in a ratio over 10 K, three times that
        Assert.InRange(both.WarmthAsSupposed!.Value, truth * 0.97, truth * 1.03);
        Assert.InRange(truth, both.WarmthLower95!.Value, both.WarmthUpper95!.Value);
        Assert.True(taken.WarmthAsSupposed < 0.97 * truth, $"{taken.WarmthAsSupposed}");
        Assert.True(RowOf(answer, "plateau-taken", "k").Come > 4);
        Assert.Equal(asReleased.WarmthAsReleased, taken.WarmthAsReleased);
        Assert.Contains("k at 20 °C would be ", both.Sentence, StringComparison.Ordinal);
        Assert.Contains(answer.Rows, r => r is { Supposition: "plateau-taken", Quantity: "warmth-s", WarmthAsSupposed: not null });
        Assert.DoesNotContain(
            SensitivityQuestion.Ask(release, SmallRelease.Basis).Rows, r => r.Quantity.StartsWith("warmth", StringComparison.Ordinal));
    }

    [Fact]
    public void Of_very_many_burials_whole_sites_are_drawn_the_same_each_time()
    {
        SmallRelease release = WithUnspokenWater();

        WeighingSample first = WeighingSample.Of(release, mostBurials: 11), second = WeighingSample.Of(release, mostBurials: 11);

        Assert.Equal(10, first.Burials.Count);
        Assert.All(first.Burials.GroupBy(b => b.Burial.SiteKey), site => Assert.Equal(2, site.Count()));
        Assert.Equal(16 - 5, first.SitesLeftOut);
        Assert.Equal(first.Burials.Select(b => b.Burial.BurialId), second.Burials.Select(b => b.Burial.BurialId));
    }

    [Fact]
    public void Another_configuration_than_that_of_the_release_is_said()
    {
        SensitivityBasis other = SmallRelease.Basis with
        {
            Assumptions = MeasurementAssumptions.Default with { MoistureMostAirDry = 0.3 },
        };

        SensitivityAnswer answer = SensitivityQuestion.Ask(WithUnspokenWater(), other);

        Assert.Equal(16, answer.NotRemade);
        Assert.Contains(answer.Cautions, c => c.StartsWith("16 burials do not come out as released", StringComparison.Ordinal));
    }
}
