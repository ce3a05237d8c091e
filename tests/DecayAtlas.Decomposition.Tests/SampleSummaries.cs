namespace DecayAtlas.Decomposition.Tests;

public class SampleSummaries
{
    [Fact]
    public void Mean_and_t_interval_of_the_dyestuff_batches()
    {
        // Davies and Goldsmith 1972, dyestuff, batch A: 1545 1440 1440 1520 1580.
        // mean 1505; squares 40², 65², 65², 15², 75² sum 15900; sd = √(15900/4) = 63.0476; t(0.975, 4) = 2.776445 (Student's table)
        SampleSummary s = SampleSummary.Of([1545, 1440, 1440, 1520, 1580])!;

        Assert.Equal(5, s.Count);
        Assert.Equal(1505, s.Mean, 9);
        Assert.Equal(63.047601, s.Sd!.Value, 5);
        Assert.Equal(1505 - 2.776445 * 63.047601 / Math.Sqrt(5), s.Lower95!.Value, 3);
        Assert.Equal(1505 + 2.776445 * 63.047601 / Math.Sqrt(5), s.Upper95!.Value, 3);
    }

    [Fact]
    public void One_value_has_a_mean_but_no_scatter() =>
        Assert.Equal(new SampleSummary(1, 0.01, null, null, null), SampleSummary.Of([0.01]));

    [Fact]
    public void No_values_have_no_summary() => Assert.Null(SampleSummary.Of([]));
}
