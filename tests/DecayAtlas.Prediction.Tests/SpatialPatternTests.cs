namespace DecayAtlas.Prediction.Tests;

/// <summary>Against R 4.2 with spdep 1.2: data/spatial.R makes the numbers, from R's data set quakes.</summary>
public class SpatialPatternTests
{
    private static readonly double[][] Quakes = TestTable.Read("quakes.csv").Rows;

    [Theory]
    [InlineData(4, 3, 0.138720201563, 0.0570788605953, 0.00995037583124)]
    [InlineData(4, 2, 0.831790597957, 0.0579071890256, 1.05763203911e-47)]
    [InlineData(8, 3, 0.104641772724, 0.0401681024302, 0.00488834207873)]
    [InlineData(8, 2, 0.783853846596, 0.0407501740083, 3.41877375348e-84)]
    public void Moran_s_I_equals_that_of_spdep(int neighbours, int column, double i, double sd, double p)
    {
        SpatialPattern found = SpatialPattern.Of([.. Quakes.Select(q => (q[0], q[1]))], [.. Quakes.Select(q => q[column])], neighbours)!;
        Assert.Equal(i, found.I, 1e-10);
        Assert.Equal(-1.0 / 119, found.Expected, 1e-12);
        Assert.Equal(sd, found.StandardDeviation, 1e-10);
        Assert.Equal(1, found.P / p, 1e-6);
    }

    [Fact]
    public void Equal_residuals_have_no_pattern() =>
        Assert.Null(SpatialPattern.Of([.. Quakes.Select(q => (q[0], q[1]))], new double[Quakes.Length], 4));

    [Fact]
    public void Variance_inflation_equals_the_diagonal_of_the_inverse_correlation_matrix_in_R()
    {
        double[] expected = [1.09244107798, 1.1264759198, 1.1426034889, 5.88345384415, 5.41246722139];
        string[] names = ["lat", "long", "depth", "mag", "stations"];
        List<TrainingRow> rows = Quakes.Select((q, i) => new TrainingRow($"{i:000}", "c", 0, 0, 0, 1, default, default, q)).ToList();
        Collinearity found =
            Collinearity.Of([.. names.Select(n => new CovariateInfo(n, "", n))],
                CovariateTable.Of(new([], rows, "", 0) { Covariates = [.. names.Select(n => new CovariateInfo(n, "", n))] }));
        // 1e-6: covariates are kept in single precision.
        Assert.All(expected.Zip(found.Inflation), p => Assert.Equal(p.First, p.Second.Factor!.Value, p.First * 1e-6));
        CorrelatedPair pair = Assert.Single(found.Pairs);
        Assert.Equal(("mag", "stations"), (pair.First, pair.Second));
        Assert.Equal(0.894798008439, pair.Correlation, 1e-7);
    }

    [Fact]
    public void A_covariate_that_is_the_sum_of_others_has_no_finite_factor_and_so_none()
    {
        Random random = new(1);
        List<TrainingRow> rows = Enumerable.Range(0, 60).Select(i =>
        {
            float a = (float)random.Next(100), b = (float)random.Next(100);
            return new TrainingRow($"{i:000}", "c", 0, 0, 0, 1, default, default, [a, b, a + b, random.Next(100)]);
        }).ToList();
        CovariateInfo[] infos = [new("a", "", ""), new("b", "", ""), new("sum", "", ""), new("free", "", "")];
        Collinearity found = Collinearity.Of(infos, CovariateTable.Of(new(infos, rows, "", 0)));
        Assert.All(found.Inflation.Take(3), f => Assert.Null(f.Factor));
        Assert.InRange(found.Inflation[3].Factor!.Value, 1, 1.5);
    }
}
