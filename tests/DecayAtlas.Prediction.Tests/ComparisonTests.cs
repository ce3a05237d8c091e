namespace DecayAtlas.Prediction.Tests;

public class ComparisonTests
{
    [Fact]
    public void The_interval_equals_an_example_worked_by_hand()
    {
        // 3 blocks of 2 rows, observed 0. Squared errors of the other less those of the better one, by block: (1 + 1) - 0 = 2, (4 + 0) - 0
        // = 4, 0 - 0 = 0.
        // mean = 6/6 = 1; d - n·mean = 0, 2, -2: Σ² = 8; half = t(0.95, 2) √(3/2 · 8)/6 = 2.919986 · 3.464102/6 = 1.685855 (t:
        // NIST/SEMATECH e-Handbook 1.3.6.7.2).
        List<TrainingRow> rows = Enumerable.Range(0, 6).Select(i => new TrainingRow($"{i}", "c", 0, 0, 0, 1, default, default, [i]))
            .ToList();
        Comparison c =
            Comparison.Of("a", new double[6], "b", [1, -1, 2, 0, 0, 0],
                CovariateTable.Of(new([new("x", "", "")], rows, "", 0)), [0, 0, 1, 1, 2, 2]);
        Assert.Equal(1, c.Gain, 12);
        Assert.Equal(1 - 1.685855, c.Lower90, 1e-5);
        Assert.Equal(1 + 1.685855, c.Upper90, 1e-5);
        Assert.False(c.IsBeyondNoise);
    }

    [Fact]
    public void Two_ways_of_guessing_are_told_apart_about_as_often_as_the_level_says()
    {
        Random random = new(11);
        List<TrainingRow> rows = Enumerable.Range(0, 120).Select(i => new TrainingRow($"{i:000}", "c", 0, 0, 0, 1, default, default, [i]))
            .ToList();
        CovariateTable table = CovariateTable.Of(new([new("x", "", "")], rows, "", 0));
        int[] blocks = [.. Enumerable.Range(0, 120).Select(i => i / 5)];
        int found = 0;
        for (int t = 0; t < 2000; t++)
        {
            double[] One() => [.. Enumerable.Range(0, 24).SelectMany(_ =>
                { double shared = random.NextDouble() - 0.5; return Enumerable.Range(0, 5)
                    .Select(_ => shared + 0.3 * (random.NextDouble() - 0.5)); })];
            found += Comparison.Of("a", One(), "b", One(), table, blocks).IsBeyondNoise ? 1 : 0;
        }
        // One side of a 90 % interval: 5 %, although rows of a block err together.
        Assert.InRange(found / 2000.0, 0.03, 0.075);
    }
}
