namespace DecayAtlas.Prediction.Tests;

public class ResidualWeightsTests
{
    /// <summary>A steep line in a covariate, sites that scatter by 0.12 about it, means of 2 or 8 burials of standard deviation 0.1: the
    /// weight of the first over that of the second is (0.0144 + 0.01/8)/(0.0144 + 0.01/2) = 0.807, whatever the line
    /// explains.</summary>
    [Fact]
    public void Rows_weigh_by_what_the_regression_leaves_and_their_own_error_and_not_by_what_it_explains()
    {
        Random random = new(2);
        double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        TrainingSet set = new([new("x", "1", "x")], [.. Enumerable.Range(0, 4000).Select(i =>
        {
            (double x, int burials) = (random.NextDouble(), i % 2 == 0 ? 2 : 8);
            return new TrainingRow($"s{i:0000}", "c", 0, 0, 3 * x + 0.12 * Normal() + 0.1 / Math.Sqrt(burials) * Normal(), 1, default,
                default, [x])
            {
                Errors = new(0.01 / burials, [], []),
            };
        })], "r", 0);
        TrainingSet weighed = ResidualWeights.On(set);
        Assert.Equal(0.807, weighed.Rows[0].Weight / weighed.Rows[1].Weight, 0.01);
    }

    [Fact]
    public void Rows_whose_batches_are_known_poorly_weigh_less_whatever_lot_they_are_of()
    {
        TrainingRow Row(int i, params SharedError[] shared) => new($"s{i}", "c", 0, 0, i % 7 * 0.1, 1, default, default, [i])
        {
            Errors = new(0.001, shared, []),
        };
        TrainingSet weighed = ResidualWeights.On(new([new("x", "1", "x")],
        [
            .. Enumerable.Range(0, 20).Select(i => Row(i, new SharedError($"batch/{i}/water", 0.02, true))),
            .. Enumerable.Range(20, 20).Select(i => Row(i, new SharedError($"batch/{i}/water-range", 0.2, true, true))),
            .. Enumerable.Range(40, 20).Select(i => Row(i, new SharedError($"batch/{i}/water", 0.02, true), new("lot/a/h", 0.3, false))),
        ], "r", 0));
        Assert.True(weighed.Rows[20].Weight < 0.8 * weighed.Rows[0].Weight);
        Assert.Equal(weighed.Rows[0].Weight, weighed.Rows[40].Weight, 12);
    }
}
