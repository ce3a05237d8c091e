namespace DecayAtlas.Decomposition.Tests.Outliers;

/// <summary>Replicates by the scatter of all groups, and rows by a regression that has not seen their fold.</summary>
public class AmongOthers
{
    private static IReadOnlyList<IReadOnlyList<Replicate>> Groups(int groups, int size, string name)
    {
        RandomStream random = new(31, name);
        return [.. Enumerable.Range(0, groups).Select(g => (IReadOnlyList<Replicate>)[.. Enumerable.Range(0, size).Select(_ =>
        {
            // correlation 0.6 between the two quantities
            (double a, double b) = random.NextNormalPair();
            return new Replicate(g + a, 100 + (10 * ((0.6 * a) + (0.8 * b))), 0, 0, 0);
        })])];
    }

    [Fact]
    public void The_scatter_of_single_replicates_comes_back_whatever_the_groups_are_like()
    {
        ReplicateScatters found = ReplicateScatter.Of(Groups(400, 3, "scatter"), 0.001).Value!;
        Assert.Equal(1, found.Covariance.Xx, 0.12);
        Assert.Equal(6, found.Covariance.Xy, 0.8);
        Assert.Equal(100, found.Covariance.Yy, 12.0);
    }

    [Theory]
    [InlineData(3, 0.01)]
    [InlineData(5, 0.01)]
    [InlineData(8, 0.05)]
    public void As_many_sound_replicates_stand_apart_as_the_level_says_or_somewhat_fewer(int size, double level)
    {
        IReadOnlyList<IReadOnlyList<Replicate>> groups = Groups(6000 / size, size, $"level{size}");
        ReplicateScatters found = ReplicateScatter.Of(groups, level).Value!;
        // of 6000, by a scatter from 1500 rows; at most a third of a group is told, which lowers the count at the coarser levels
        Assert.InRange(found.Apart.Count / 6000.0, 0.55 * level, 1.35 * level);
        // chi-square on 2 degrees: the quantile is -2 ln level
        Assert.Equal(Math.Sqrt(-2 * Math.Log(level)), found.Limit, 1e-9);
    }

    [Fact]
    public void What_is_ordinary_in_each_quantity_and_odd_in_both_together_is_found()
    {
        List<IReadOnlyList<Replicate>> groups = [.. Groups(60, 3, "odd")];
        Replicate r = groups[5][1];
        // against the correlation of 0.6: 3 up and 30 down, each no more than three standard deviations
        groups[5] = [groups[5][0], r with { X = groups[5][0].X + 3, Y = groups[5][0].Y - 30 }, groups[5][2]];
        Assert.Contains(ReplicateScatter.Of(groups, 0.001).Value!.Apart, a => a is { Group: 5, Index: 1 });
    }

    [Fact]
    public void Measuring_errors_of_a_replicate_s_own_widen_what_is_allowed_it()
    {
        List<IReadOnlyList<Replicate>> groups = [.. Groups(60, 3, "coarse")];
        groups[9] = [groups[9][0], groups[9][1] with { X = groups[9][1].X + 8 }, groups[9][2]];
        Assert.Contains(ReplicateScatter.Of(groups, 0.001).Value!.Apart, a => a is { Group: 9, Index: 1 });
        groups[9] = [groups[9][0], groups[9][1] with { VarianceX = 9 }, groups[9][2]];
        Assert.DoesNotContain(ReplicateScatter.Of(groups, 0.001).Value!.Apart, a => a is { Group: 9 });
    }

    [Fact]
    public void What_can_not_be_judged_is_said()
    {
        Assert.Contains("are needed", ReplicateScatter.Of(Groups(16, 3, "few"), 0.001).Statement!.Sentence);
        Assert.Contains("are needed", ReplicateScatter.Of(Groups(100, 2, "pairs"), 0.001).Statement!.Sentence);
        Assert.Contains(" are equal",
            ReplicateScatter.Of([
                .. Enumerable.Repeat<IReadOnlyList<Replicate>>([.. Enumerable.Repeat(new Replicate(1, 2, 0, 0, 0), 3)], 30)],
                    0.001).Statement!.Sentence);
        Assert.Contains("not a finite number",
            ReplicateScatter.Of([[new Replicate(double.NaN, 1, 0, 0, 0)]], 0.001).Statement!.Sentence);
        Assert.Contains("are needed", OutOfFold.Of([]).Statement!.Sentence);
        Assert.Contains("are needed", OutOfFold.Of(Rows(40, 2, 0.1, "two folds", folds: 2)).Statement!.Sentence);
        Assert.Contains("are needed", OutOfFold.Of(Rows(20, 8, 0.1, "few rows")).Statement!.Sentence);
        Assert.Contains("not a finite number", OutOfFold.Of([new FoldedRow(double.NaN, 0, 0, [1])]).Statement!.Sentence);
    }

    /// <summary>y = 1 + 2 x1 - x1² + noise, further columns without meaning.</summary>
    private static FoldedRow[] Rows(int count, int columns, double sd, string name, int folds = 5)
    {
        RandomStream random = new(77, name);
        return [.. Enumerable.Range(0, count).Select(i =>
        {
            double[] x = [.. Enumerable.Range(0, columns).Select(_ => random.NextNormalPair().First)];
            return new FoldedRow(1 + (2 * x[0]) - (x[0] * x[0]) + (sd * random.NextNormalPair().First), 0, i % folds, x);
        })];
    }

    [Fact]
    public void Scores_of_sound_rows_are_standard_normal()
    {
        OutOfFoldValues found = OutOfFold.Of(Rows(2000, 3, 0.5, "normal")).Value!;
        double[] scores = [.. found.Values.Select(v => v.Score)];
        Assert.Equal(0.5, found.BetweenSd, 0.03);
        Assert.Equal(7, found.Terms);
        // 4.55 % of a normal distribution lie beyond two standard deviations; the sampling sd of the share is 0.5 %
        Assert.InRange(scores.Count(z => Math.Abs(z) > 2) / 2000.0, 0.03, 0.06);
    }

    [Fact]
    public void A_tenth_of_gross_errors_does_not_hide_itself()
    {
        FoldedRow[] rows = Rows(400, 2, 0.2, "gross");
        FoldedRow[] spoiled = [.. rows.Select((r, i) => i % 10 == 3 ? r with { Value = r.Value + 3 } : r)];
        OutOfFoldValues found = OutOfFold.Of(spoiled).Value!;
        Assert.All(Enumerable.Range(0, 400).Where(i => i % 10 == 3), i => Assert.True(found.Values[i].Score > 4));
        Assert.True(Enumerable.Range(0, 400).Count(i => i % 10 != 3 && Math.Abs(found.Values[i].Score) > 4) <= 1);
    }

    [Fact]
    public void A_row_that_is_only_judged_changes_nobody_else()
    {
        FoldedRow[] rows = Rows(200, 2, 0.2, "judged");
        OutOfFoldValues without = OutOfFold.Of(rows).Value!,
            with = OutOfFold.Of([.. rows, new FoldedRow(50, 0, 1, [0, 0], IsLearnt: false)]).Value!;
        Assert.Equal(without.Values, with.Values.Take(200));
        Assert.True(with.Values[200].Score > 50);
    }

    [Fact]
    public void A_covariate_that_repeats_another_and_units_change_no_expectation_to_speak_of()
    {
        FoldedRow[] rows = Rows(300, 2, 0.3, "twice");
        OutOfFoldValues once = OutOfFold.Of(rows).Value!;
        OutOfFoldValues scaled = OutOfFold.Of([.. rows.Select(r => r with { X = [1000 * r.X[0] + 5, r.X[1]] })]).Value!;
        OutOfFoldValues twice = OutOfFold.Of([.. rows.Select(r => r with { X = [r.X[0], r.X[1], r.X[0]] })]).Value!;
        Assert.All(once.Values.Zip(scaled.Values), v => Assert.Equal(v.First.Expected, v.Second.Expected, 1e-8));
        Assert.All(once.Values.Zip(twice.Values), v => Assert.Equal(v.First.Expected, v.Second.Expected, 0.03));
    }
}
