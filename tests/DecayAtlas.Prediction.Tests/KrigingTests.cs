using System.Globalization;

namespace DecayAtlas.Prediction.Tests;

/// <summary>Universal kriging held against R's nlme and gstat and the formulas written out (<c>data/kriging.R</c>).</summary>
public class KrigingTests
{
    private const double LogOfTwoPi = 1.8378770664093453;

    private static readonly double[][] Soils = TestTable.Read("meuse.csv").Rows;

    private static readonly ILookup<string, double[]> OfR = File.ReadLines(TestTable.PathOf("kriging.txt"))
        .Select(l => l.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        .ToLookup(p => p[0], p => p[1..].Select(v => double.Parse(v, CultureInfo.InvariantCulture)).ToArray());

    /// <summary>Rows of the terms and the target; the places are those of the script.</summary>
    private static readonly double[][] Terms = [.. Soils.Select(r => new[] { 1, r[3], r[2], r[6] })];

    private static TrainingRow RowOf(double[] soil, string site, double own) => new(site, "c", 50.97 + (soil[1] - 331000) / 111000,
        5.75 + (soil[0] - 180000) / 70000, soil[6], 1, default, default, [])
    {
        Errors = new(own, [], []),
    };

    private static TrainingRow[] Rows => [.. Soils.Select((s, i) => RowOf(s, $"{i:000}", 0))];

    private static double LogLikelihood(KrigingCovariance covariance, KrigingTrend trend, int rows, int free) =>
        -0.5 * (covariance.LogDeterminant + trend.Criterion + (rows - free) * LogOfTwoPi);

    private static void Same(IEnumerable<double> expected, IEnumerable<double> found, double tolerance) =>
        Assert.Equal(expected, found, (a, b) => Math.Abs(a - b) <= tolerance * Math.Max(1, Math.Abs(a)));

    [Fact]
    public void Likelihood_and_coefficients_at_given_variances_are_those_of_gls()
    {
        double[] expected = OfR["gls"].Single();
        KrigingVariances v = new(expected[1], expected[0], 0, expected[2], double.PositiveInfinity);
        KrigingCovariance covariance = KrigingCovariance.Of(KrigingRows.Of(Rows), v)!;
        KrigingTrend trend = KrigingTrend.Of(covariance.Cross(Terms), v.Slopes)!;
        Same(expected[3..], [LogLikelihood(covariance, trend, Rows.Length, 3), .. trend.Coefficients], 1e-9);
    }

    [Fact]
    public void The_search_finds_the_variances_of_gls_or_likelier_ones()
    {
        double[] expected = OfR["reml"].Single();
        KrigingVariances v = KrigingSearch.Reml(Rows, Terms, double.PositiveInfinity, 1e-9);
        KrigingCovariance covariance = KrigingCovariance.Of(KrigingRows.Of(Rows), v)!;
        double found = LogLikelihood(covariance, KrigingTrend.Of(covariance.Cross(Terms), v.Slopes)!, Rows.Length, 3);
        Assert.Equal(expected[3], found, 1e-3);
        // with one row a site what sites and rows have of their own can't be told apart; the likelihood is flat, so that 1e-3 of it are
        // 3 % of a variance
        Same([expected[0] / 1000, expected[1], expected[2]], [v.RangeMetres / 1000, v.Field, v.Sites + v.Rows], 0.01);
    }

    [Fact]
    public void Predictions_are_those_of_gstat_and_fade_to_the_trend_far_away()
    {
        KrigingVariances v = new(0.15, 400, 0, 0.05, double.PositiveInfinity);
        KrigingRows rows = KrigingRows.Of(Rows);
        KrigingCovariance covariance = KrigingCovariance.Of(rows, v)!;
        double[] b = KrigingTrend.Of(covariance.Cross(Terms), v.Slopes)!.Coefficients;
        SpatialPart field = new(SpatialField.Of(rows.Places, v.RangeMetres), [.. covariance.Left(Terms, b).Weights.Select(w => (float)w)]);
        foreach (double[] at in OfR["krige"])
        {
            double[] values = [b[0] + b[1] * at[2] + b[2] * at[3]];
            double trend = values[0];
            field.AddTo(values, [new(at[1], at[0])]);
            // weights are kept in single precision
            Assert.Equal(at[4], values[0], 1e-6);
            Assert.Equal(at[0] < 50, Math.Abs(values[0] - trend) < 1e-12);
        }
    }

    [Fact]
    public void Rows_of_one_site_own_and_shared_errors_and_shrunk_slopes_are_those_of_the_formulas_written_out()
    {
        TrainingRow[] rows = [.. Soils.Select((s, i) => RowOf(s, $"{i / 2:000}", 0.01 * (1 + i % 3)))];
        for (int i = 0; i < rows.Length; i++)
        {
            SharedError[] shared = [new("lot/a", 0.05 - 0.02 * (i % 3), false),
                .. i / 5 % 2 == 0 ? [new SharedError("batch/b", 0.10 + 0.01 * (i % 4), true)] : Array.Empty<SharedError>()];
            rows[i] = rows[i] with { Errors = rows[i].Errors with { Shared = shared } };
        }

        double[][] columns = [[.. Soils.Select(s => s[3])], [.. Soils.Select(s => s[2])], [.. Soils.Select(s => s[3] * s[3])]];
        foreach (double[] column in columns)
        {
            double mean = column.Average(), sd = Math.Sqrt(column.Sum(x => (x - mean) * (x - mean)) / (column.Length - 1));
            for (int i = 0; i < column.Length; i++)
                column[i] = (column[i] - mean) / sd;
        }

        double[][] terms = [.. Soils.Select((s, i) => new[] { 1, columns[0][i], columns[1][i], columns[2][i], s[6] })];
        KrigingVariances v = new(0.12, 300, 0.03, 0.02, 0.4);
        KrigingRows sites = KrigingRows.Of(rows);
        KrigingCovariance covariance = KrigingCovariance.Of(sites, v)!;
        KrigingTrend trend = KrigingTrend.Of(covariance.Cross(terms), v.Slopes)!;
        double[] likeness = new double[sites.Places.Length];
        Assert.True(SpatialField.Of(sites.Places, v.RangeMetres).LikenessOf(new(5.77, 50.985), likeness));
        (double[] weights, double meanShared) = covariance.Left(terms, trend.Coefficients);
        Same(OfR["sites"].Single(), [LogLikelihood(covariance, trend, rows.Length, 1), .. trend.Coefficients,
            SpatialField.Dot(likeness, weights), meanShared], 1e-9);
    }
}
