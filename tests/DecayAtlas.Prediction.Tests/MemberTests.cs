namespace DecayAtlas.Prediction.Tests;

/// <summary>Members of a model: what they tell, and what they must not hang on.</summary>
public class MemberTests
{
    private static readonly TrainingOptions Quick = new() { Trees = 40, Members = 40 };

    /// <summary>Rows on a square of 8 degrees with one covariate, all of one lot and of batches of a block or of all blocks.</summary>
    private static CovariateTable Table(int rows, double lot, double batch, bool isBatchOfBlock)
    {
        Random random = new(4);
        return CovariateTable.Of(new TrainingSet([new("x", "1", "x")], [.. Enumerable.Range(0, rows).Select(i =>
        {
            (double north, double east, double x) = (40 + 8 * random.NextDouble(), 8 * random.NextDouble(), random.NextDouble());
            string id = isBatchOfBlock ? $"{Math.Floor(north)} {Math.Floor(east)}" : "one";
            return new TrainingRow($"s{i:0000}", "c", north, east, 0.5 * x + 0.2 * Normal(random), 1, default, default, [x])
            {
                Errors = new(0, [new("lot/a/h", lot, false), new($"batch/{id}/water", batch, true)], []),
            };
        })], "r", 0));
    }

    private static double Normal(Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    private static MemberVariances At(CovariateTable table, TrainingOptions options)
    {
        MemberVariances[] found = new MemberVariances[1];
        MemberTraining.Of(table, new LinearCandidate(), new(Penalty: 1e-4), options).Members.Variances([0.5f], found);
        return found[0];
    }

    /// <summary>The mean of n rows of standard deviation 0.2 has the variance 0.04/n: school statistics, and no model.</summary>
    [Fact]
    public void At_the_mean_of_a_line_the_choice_of_sites_does_what_a_standard_error_says()
    {
        double variance = At(Table(600, 0, 0, true), Quick with { Members = 1000 }).OfSites;
        Assert.Equal(0.04 / 600, variance, 0.3 * 0.04 / 600);
    }

    [Fact]
    public void A_lot_that_all_share_moves_every_prediction_by_its_error_and_a_batch_of_one_block_hardly_any()
    {
        Assert.Equal(0.1, Math.Sqrt(At(Table(600, 0.1, 0, true), Quick with { Members = 1000 }).OfShared), 0.012);
        Assert.Equal(0.1, Math.Sqrt(At(Table(600, 0, 0.1, false), Quick with { Members = 1000 }).OfShared), 0.012);
        Assert.True(Math.Sqrt(At(Table(600, 0, 0.1, true), Quick with { Members = 1000 }).OfShared) < 0.01);
    }

    [Fact]
    public void Threads_and_other_members_change_no_member()
    {
        CovariateTable table = Table(120, 0.1, 0.05, true);
        foreach (Candidate candidate in new Candidate[] { new CurvedCandidate(), new BoostedTreesCandidate() })
        {
            Setting setting = candidate.Settings(Quick)[0];
            double[] some = MemberTraining.Of(table, candidate, setting, Quick).Members.Predict(table.Features, table.Count);
            double[] more = MemberTraining.Of(table, candidate, setting, Quick with { Members = 44 }).Members
                .Predict(table.Features, table.Count);
            Assert.Equal(some, more.Take(some.Length));
        }
    }

    [Fact]
    public void What_was_saved_predicts_the_same_numbers()
    {
        CovariateTable table = Table(120, 0.1, 0.05, true);
        foreach (Candidate candidate in new Candidate[] { new CurvedCandidate(), new ForestCandidate(), new BoostedTreesCandidate() })
        {
            using TemporaryFolder folder = new();
            MemberSet members = MemberTraining.Of(table, candidate, candidate.Settings(Quick)[0], Quick).Members;
            (string name, byte[] bytes) = members.Save();
            File.WriteAllBytes(folder.Of(name), bytes);
            MemberSet again = MemberSet.Read(folder.Path, 1);
            Assert.Equal(members.Predict(table.Features, table.Count), again.Predict(table.Features, table.Count));
            Assert.Equal((members.Blocks, members.DegreesOfFreedom), (again.Blocks, again.DegreesOfFreedom));
            Assert.Throws<PredictionException>(() => MemberSet.Read(folder.Path, 2));
        }
    }

    /// <summary>By hand: pairs (1, 3), (2, 2), (6, 4): their means 2, 2, 5 have the variance 3, times 4/3 for 4 blocks; half their
    /// differences -1, 0, 1 have the mean square 2/3.</summary>
    [Fact]
    public void Variances_of_pairs_are_those_worked_by_hand()
    {
        MemberVariances found = new MemberSet([.. Enumerable.Repeat(new FormulaPredictor(new ConstantFormula(1, 0)), 6)], 4)
            .VariancesOf([1, 3, 2, 2, 6, 4]);
        Assert.Equal(4, found.OfSites, 12);
        Assert.Equal(2.0 / 3, found.OfShared, 12);
    }
}
