namespace DecayAtlas.Prediction.Tests;

/// <summary>What is taken off targets for lots, against errors planted by hand; nothing of the planting is the code's.</summary>
public class LotErrorsTests
{
    private const int Blocks = 24, RowsOfBlock = 10;

    [Fact]
    public void What_lots_differ_by_is_taken_off_and_their_mean_stays()
    {
        // 0.24 between two lots that lie side by side everywhere, each with a standard uncertainty of 0.1
        TrainingSet set = Set((block, row) => row % 2, (lot, _) => lot == 0 ? 0.20 : -0.04, (_, _) => 0.1);
        TrainingSet left = TakenOff(set);
        double[] means = [.. Enumerable.Range(0, 2).Select(lot => MeanOff(left, set, lot))];
        Assert.InRange(means[0] - means[1], -0.03, 0.03);
        Assert.Equal(0.08, means.Average(), 0.02);
    }

    [Fact]
    public void A_lot_of_a_few_places_is_not_told_from_them()
    {
        TrainingSet set = Set((block, _) => block / 4, (lot, _) => 0.1 * lot, (_, _) => 0.1);
        Assert.Equal(set.Rows.Select(r => r.Target), TakenOff(set).Rows.Select(r => r.Target));
    }

    [Fact]
    public void Rows_that_chance_made_fast_are_not_taken_for_those_of_a_wrong_lot()
    {
        // the effect of an error grows with the measured target, as it does towards the plateau; no lot is wrong
        TrainingSet set = Set((block, row) => row % 2, (_, _) => 0, (_, target) => 0.05 * Math.Exp(1.5 * target));
        TrainingSet left = TakenOff(set);
        Assert.All(Enumerable.Range(0, 2), lot => Assert.InRange(MeanOff(left, set, lot), -0.03, 0.03));
    }

    private static TrainingSet TakenOff(TrainingSet set)
    {
        CovariateTable table = CovariateTable.Of(set);
        return new LotErrors(table, CrossValidationFolds.BlockOfRow(table.Rows, 1)).TakenOff(set);
    }

    /// <summary>How far the targets of a lot lie above the planted truth.</summary>
    private static double MeanOff(TrainingSet left, TrainingSet given, int lot) =>
        left.Rows.Where((_, i) => given.Rows[i].Campaign == $"{lot}").Average(r => r.Target - TruthAt(r.Covariates[0]));

    private static double TruthAt(double x) => 0.3 * x;

    private static TrainingSet Set(Func<int, int, int> lotOf, Func<int, double, double> off, Func<int, double, double> effect)
    {
        Random random = new(7);
        List<TrainingRow> rows = [];
        for (int block = 0; block < Blocks; block++)
        {
            for (int row = 0; row < RowsOfBlock; row++)
            {
                double x = 2 * random.NextDouble() - 1;
                double noise = 0.1 * (random.NextDouble() + random.NextDouble() + random.NextDouble() - 1.5);
                int lot = lotOf(block, row);
                double target = TruthAt(x) + off(lot, x) + noise;
                rows.Add(new($"{block:00}/{row}", $"{lot}", 0.5, block + 0.5, target, 1, new(2024, 4, 1), new(2024, 7, 1), [x])
                {
                    Errors = new(0.001, [new($"lot/F{lot}/hydrolysable", effect(lot, target), false)], []),
                });
            }
        }

        return new([new("x", "1", "x")], rows, "planted", 0);
    }
}
