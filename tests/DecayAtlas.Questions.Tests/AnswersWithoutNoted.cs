namespace DecayAtlas.Questions.Tests;

/// <summary>Questions asked of all records and again without the noted ones.</summary>
public class AnswersWithoutNoted
{
    /// <summary>One ecosystem, sites of three burials with the ln k given; the burials named are noted.</summary>
    private sealed class Tables(IReadOnlyDictionary<string, double[]> sites, params (string Site, double LnRate)[] noted) : IReleasedRows
    {
        public IReadOnlyList<TRow> Rows<TRow>(Table<TRow> table)
            where TRow : class => table.Name switch
            {
                "plots" => Of<TRow, ReleasedPlot>(
                    ReleasedPlot.Of(
                        sites.SelectMany(s => s.Value.Select((x, i) => new PlotBurial(s.Key, "2024", null, null, $"{i}", "", x, null, 0.2))),
                        _ => null)),
                "noted" => Of<TRow, ReleasedNoted>(noted.Select((n, i) => new ReleasedNoted
                {
                    ContributionId = "c" + n.Site,
                    BurialId = $"{i}",
                    SiteKey = n.Site,
                    Campaign = "2024",
                    Use = "accepted",
                    RatePerDay = Math.Exp(n.LnRate),
                    Stabilisation = 0.2,
                    Because = "surprise",
                })),
                _ => [],
            };

        private static IReadOnlyList<TRow> Of<TRow, TOwn>(IEnumerable<TOwn> rows) => [.. rows.Cast<TRow>()];
    }

    private static readonly Dictionary<string, double[]> Sites = new() { ["a"] = [-4, -5, -6], ["b"] = [-3, -1], ["c"] = [-2] };

    [Fact]
    public void Without_notes_the_question_is_asked_once_and_that_is_said()
    {
        int asked = 0;
        WithAndWithoutNoted<string> both =
            WithAndWithoutNoted.Ask<string>(new ReleasedRates(new Tables(Sites)), _ => $"{++asked}", (_, _) => new(true, "never"));
        Assert.Equal((1, "1", null, false), (asked, both.All, both.Without.Answer, both.Without.ConclusionChanges));
        Assert.Equal("No accepted burial with k above 0 is noted.", both.Without.Sentence);
    }

    [Fact]
    public void Noted_burials_are_taken_off_their_plots_and_plots_of_nothing_else_are_gone()
    {
        ReleasedRates rates = new(new Tables(Sites, ("a", -6), ("c", -2)));
        WithAndWithoutNoted<string> both = WithAndWithoutNoted.Ask<string>(rates,
            r => string.Join("; ", r.Plots.Select(p =>
                FormattableString.Invariant($"{p.SiteKey} {p.LnRateBurials} {p.LnRateMean:0.00} {p.LnRateSd:0.0000}"))),
            (all, without) => new(all != without, "k is another."));
        Assert.Equal("a 3 -5.00 1.0000; b 2 -2.00 1.4142; c 1 -2.00 ", both.All);
        Assert.Equal("a 2 -4.50 0.7071; b 2 -2.00 1.4142", both.Without.Answer);
        Assert.Equal("Without the 2 noted burials of 2 contributions: k is another.", both.Without.Sentence);
        Assert.True(both.Without.ConclusionChanges);
    }

    private static GroupAnswer Compared(params (string First, string Second, double Ratio, double P)[] pairs) => new("k", 9, 3, [], null, [],
        [.. pairs.Select(p => new GroupPair(p.First, p.Second, p.Ratio, null, null, 9, p.P, 0, null, null, ""))], [], [])
    {
        By = "management",
    };

    [Fact]
    public void A_pair_told_apart_only_with_or_only_without_is_named()
    {
        AnswerChange change = AnswerChanges.Of(
            Compared(("a", "b", 1.5, 0.01), ("a", "c", 1.2, 0.2), ("b", "c", 0.8, 0.01)),
            Compared(("a", "b", 1.3, 0.2), ("a", "c", 1.4, 0.01), ("b", "c", 0.8, 0.01)));
        Assert.Equal(new AnswerChange(true, "b / a is no longer told apart so; c / a is told apart."), change);
    }

    [Fact]
    public void Many_pairs_are_counted_and_none_is_not_the_name_of_a_group()
    {
        string[] others = ["a", "b", "c", "d", "e"];
        GroupAnswer before = Compared([.. others.Select(o => ("none", o, 1.5, o == "a" ? 0.01 : 0.2))]),
            after = Compared([.. others.Select(o => ("none", o, 1.5, o == "a" ? 0.2 : 0.01))]);
        Assert.Equal("1 pair is no longer told apart so, 4 others are.", AnswerChanges.Of(before, after).Sentence);
        Assert.Equal("b / not managed is told apart.",
            AnswerChanges.Of(Compared(("none", "b", 1.5, 0.2)), Compared(("none", "b", 1.5, 0.01))).Sentence);
        Assert.Equal("1 of 5 pairs is told apart", before.ToldApart);
        Assert.Equal("4 of 5 pairs are told apart", after.ToldApart);
    }

    [Theory]
    [InlineData("the pair is told apart", 0.01)]
    [InlineData("the pair is not told apart", 0.2)]
    [InlineData("none of 2 pairs is told apart", 0.2, 0.3)]
    [InlineData("all 2 pairs are told apart", 0.01, 0.02)]
    public void How_many_pairs_are_told_apart_is_a_sentence_whatever_their_number(string said, params double[] probabilities) =>
        Assert.Equal(said, Compared([.. probabilities.Select((p, i) => ("a", $"b{i}", 1.2, p))]).ToldApart);

    [Fact]
    public void Where_no_conclusion_changes_it_is_said_how_far_ratios_move()
    {
        // 1.2 to 1.5 is a factor of 1.25
        Assert.Equal(new AnswerChange(false, "no conclusion changes; ratios of k move by a factor of 1.25 at most."),
            AnswerChanges.Of(Compared(("a", "b", 1.2, 0.3)), Compared(("a", "b", 1.5, 0.1))));
    }

    [Fact]
    public void An_answer_that_is_none_without_them_is_another()
    {
        GroupAnswer none = Compared() with { Statement = "One site a group is too few." };
        Assert.Equal(new AnswerChange(true, "there is no answer. One site a group is too few."),
            AnswerChanges.Of(Compared(("a", "b", 1.2, 0.3)), none));
        Assert.Equal(new AnswerChange(false, "there is no answer either."), AnswerChanges.Of(none, none));
    }

    [Fact]
    public void A_share_that_leaves_its_interval_is_told_with_both_variances()
    {
        VarianceAnswer all = new(
                "k", 20, null, [new("site", 4, 0.06, 0.8, 0.6, 0.9), new("campaign", 8, 0.0098, 0.1, 0.05, 0.2)], null, null, null),
            without = all with { Shares = [new("site", 4, 0.07, 0.88, 0.6, 0.95), new("campaign", 8, 0.0002, 0.01, 0, 0.1)] };
        Assert.Equal(new AnswerChange(true, "variance of ln k site 0.0700 instead of 0.0600, campaign 0.0002 instead of 0.0098; a share "
            + "lies outside the interval that it has with them."), AnswerChanges.Of(all, without));
        Assert.False(AnswerChanges.Of(all, all).IsOfConclusion);
    }
}
