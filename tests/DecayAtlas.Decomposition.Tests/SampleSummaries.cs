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
    public void Values_taken_off_leave_what_the_others_say()
    {
        // the same batch without 1545 and 1580: 1440, 1440, 1520; mean 4400/3; squares 2 (80/3)² + (160/3)² = 12800/3; sd = √(6400/3)
        SampleSummary left = SampleSummary.Of([1545, 1440, 1440, 1520, 1580])!.Without([1580, 1545])!;

        Assert.Equal(3, left.Count);
        Assert.Equal(4400 / 3.0, left.Mean, 9);
        Assert.Equal(Math.Sqrt(6400 / 3.0), left.Sd!.Value, 9);
        // t(0.975, 2) = 4.302653 (Student's table)
        Assert.Equal(4400 / 3.0 + 4.302653 * Math.Sqrt(6400 / 3.0) / Math.Sqrt(3), left.Upper95!.Value, 3);
    }

    [Fact]
    public void Of_nothing_left_there_is_no_summary_and_of_one_value_no_scatter()
    {
        SampleSummary two = SampleSummary.Of([3, 5])!;
        Assert.Null(two.Without([3, 5]));
        Assert.Equal(new SampleSummary(1, 5, null, null, null), two.Without([3]));
        // what is left agrees, and rounding must not make its scatter the root of a negative number
        Assert.Equal(0, SampleSummary.Of([0.1, 0.1, 0.1, 0.7])!.Without([0.7])!.Sd!.Value, 7);
        Assert.Throws<ArgumentException>(() => two.Without([1, 2, 3]));
    }

    [Fact]
    public void One_value_has_a_mean_but_no_scatter() =>
        Assert.Equal(new SampleSummary(1, 0.01, null, null, null), SampleSummary.Of([0.01]));

    [Fact]
    public void No_values_have_no_summary() => Assert.Null(SampleSummary.Of([]));
}
