using FsCheck.Xunit;

namespace DecayAtlas.Prediction.Tests;

public class ApplicabilityTests
{
    private static readonly CovariateTable Table = CovariateTable.Of(InventedSites.Make(157, InventedSites.LinearTruth, 0.1));
    private static readonly int[] Folds = [.. CrossValidationFolds.Blocked(Table.Rows, 4, 1.0).FoldOfRow];
    private static readonly double[] Importance = [0.5, 0.2, -0.01, 0.1, 0, 0.02];

    /// <summary>The definition of Meyer and Pebesma 2021 (doi:10.1111/2041-210X.13650, section 2.2), written out without a tree.</summary>
    private static double BruteForce(float[] row, Func<int, bool> counts)
    {
        double[][] z = Scaled();
        double[] q = Scaled(row);
        double mean = 0, nearest = double.PositiveInfinity;
        for (int a = 0; a < z.Length; a++)
        {
            for (int b = 0; b < a; b++)
                mean += Distance(z[a], z[b]) / (z.Length * (z.Length - 1) / 2.0);
            if (counts(a))
                nearest = Math.Min(nearest, Distance(z[a], q));
        }
        return nearest / mean;
    }

    private static double Distance(double[] a, double[] b) => Math.Sqrt(a.Zip(b, (x, y) => (x - y) * (x - y)).Sum());

    private static double[][] Scaled() => [.. Enumerable.Range(0, Table.Count).Select(r => Scaled(Table.FeaturesOf(r).ToArray()))];

    private static double[] Scaled(float[] row) => [.. row.Select((v, c) =>
    {
        double[] column = [.. Enumerable.Range(0, Table.Count).Select(r => (double)Table.FeaturesOf(r)[c])];
        double mean = column.Average(), sd = Math.Sqrt(column.Sum(x => (x - mean) * (x - mean)) / (column.Length - 1));
        return (v - mean) / sd * Math.Max(0, Importance[c]);
    })];

    [Fact]
    public void The_dissimilarity_index_equals_a_brute_force_computation()
    {
        (Applicability? applicability, _) = Applicability.Of(Table, Folds, Importance);
        Random random = new(2);
        for (int i = 0; i < 40; i++)
        {
            float[] row = [.. Enumerable.Range(0, 6).Select(c => (float)(random.NextDouble() * (c + 1) * 4 - 2))];
            Assert.Equal(BruteForce(row, _ => true), applicability.DissimilarityOf(row), 12);
        }
    }

    [Fact]
    public void A_training_row_is_held_against_the_rows_of_other_folds()
    {
        (Applicability? applicability, double[]? index) = Applicability.Of(Table, Folds, Importance);
        foreach (int row in new[] { 0, 50, 100, 156 })
        {
            Assert.Equal(BruteForce(Table.FeaturesOf(row).ToArray(), r => Folds[r] != Folds[row]), index[row], 12);
            Assert.Equal(0, applicability.DissimilarityOf(Table.FeaturesOf(row)), 12);
        }
    }

    [Fact]
    public void The_threshold_is_the_upper_whisker()
    {
        // R: x <- c(1,2,3,4,5,6,7,8,9,30); min(quantile(x, .75) + 1.5*IQR(x), max(x)) = 14.5
        Assert.Equal(14.5, Applicability.UpperWhisker([1, 2, 3, 4, 5, 6, 7, 8, 9, 30]), 12);
        Assert.Equal(5, Applicability.UpperWhisker([1, 2, 3, 4, 5]), 12);
    }

    [Fact]
    public void Local_density_counts_the_rows_within_the_threshold()
    {
        (Applicability? applicability, _) = Applicability.Of(Table, Folds, Importance);
        float[] row = [1, 2, 3, 4, 5, 6];
        double[] q = Scaled(row);
        double reach = applicability.State.Threshold * applicability.State.MeanDistance;
        Assert.Equal(Scaled().Count(z => Distance(z, q) <= reach), applicability.DensityAt(row));
        Assert.True(applicability.DensityAt(row) > 0);
        Assert.Equal(0, applicability.DensityAt([99, 99, 99, 99, 99, 99]));
    }

    [Fact]
    public void A_covariate_without_importance_does_not_make_a_place_unlike()
    {
        (Applicability? applicability, _) = Applicability.Of(Table, Folds, Importance);
        float[] row = Table.FeaturesOf(3).ToArray();
        row[4] = 1000;
        Assert.Equal(0, applicability.DissimilarityOf(row), 12);
    }

    [Property]
    public void The_tree_finds_the_nearest_of_any_points(byte[] coordinates, byte x, byte y, byte z)
    {
        // Bytes make many ties, which are what a tree gets wrong.
        double[] points = [.. coordinates.Concat(new byte[3]).Take((coordinates.Length / 3 + 1) * 3).Select(b => (double)(b % 16))];
        double[] query = [x % 16, y % 16, z % 16];
        KdTree tree = new(points, 3);
        double[] distances = [.. points.Chunk(3).Select(p => Distance(p, query))];
        Assert.Equal(distances.Min(), tree.NearestDistance(query));
        Assert.Equal(distances.Count(d => d <= 5), tree.CountWithin(query, 5));
    }
}
