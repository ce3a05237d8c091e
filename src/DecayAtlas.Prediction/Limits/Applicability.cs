using MathNet.Numerics.Statistics;

namespace DecayAtlas.Prediction.Limits;

/// <summary>What <see cref="Applicability"/> is made of, by column; saved with the model.</summary>
/// <param name="Scales">Importance weight over standard deviation, the same for all columns of a class; 0 where the model does not need
/// the covariate.</param>
/// <param name="Rows">Row-major, in their units.</param>
/// <param name="MeanDistance">Between two training rows, in scaled space.</param>
/// <param name="Threshold">Largest dissimilarity index inside the area of applicability.</param>
internal sealed record ApplicabilityState(double[] Means, double[] Scales, float[] Rows, double MeanDistance, double Threshold);

/// <summary>
/// Dissimilarity index (DI) and area of applicability. Source: Meyer and Pebesma 2021, Methods in Ecology and Evolution
/// 12:1620-1633, doi:10.1111/2041-210X.13650: covariates are standardised and weighted by importance; DI is the distance to the
/// nearest training row over the mean distance between training rows; a place is applicable up to the upper whisker (75th
/// percentile + 1.5 interquartile ranges) of the DI that training rows have to the rows outside their own fold.
/// </summary>
/// <remarks>A row's DI is 0 at a training row and about 1 where it is as far from all as they are from each other. Safe to use from many
/// threads.</remarks>
internal sealed class Applicability
{
    private readonly KdTree _tree;

    public Applicability(ApplicabilityState state)
    {
        State = state;
        _tree = new(Scaled(state), state.Means.Length);
    }

    public ApplicabilityState State { get; }

    /// <summary>DI of each training row to the training rows outside its fold, in the order of the table.</summary>
    public static (Applicability Applicability, double[] TrainingIndex) Of(CovariateTable table, IReadOnlyList<int> foldOfRow,
        IReadOnlyList<double> importance)
    {
        int width = table.FeatureCount, n = table.Count;
        double[] means = new double[width], scales = new double[width];
        // An importance below 0 is chance. Where none is above, there is nothing to weight by.
        bool weighted = importance.Any(i => i > 0);
        for (int c = 0; c < table.Coding.Covariates; c++)
        {
            (int first, int count) = table.Coding.ColumnsOf(c);
            double variance = 0;
            for (int f = first; f < first + count; f++)
            {
                double[] column = [.. table.Column(f)];
                means[f] = column.Average();
                variance += column.Sum(v => (v - means[f]) * (v - means[f])) / (n - 1);
            }

            // over all columns of a class together: its rows then lie as far from each other as those of a number of the same importance
            double sd = Math.Sqrt(variance);
            Array.Fill(scales, sd > 0 ? (weighted ? Math.Max(0, importance[c]) : 1) / sd : 0, first, count);
        }
        ApplicabilityState state = new(means, scales, table.Features, 0, 0);
        double[] points = Scaled(state);

        double[] nearest = new double[n];
        Array.Fill(nearest, double.PositiveInfinity);
        double sum = 0;
        for (int a = 0; a < n; a++)
        {
            for (int b = a + 1; b < n; b++)
            {
                double distance = Distance(points.AsSpan(a * width, width), points.AsSpan(b * width, width));
                sum += distance;
                if (foldOfRow[a] != foldOfRow[b])
                    (nearest[a], nearest[b]) = (Math.Min(nearest[a], distance), Math.Min(nearest[b], distance));
            }
        }

        double mean = sum / (n * (n - 1) / 2.0);
        double[] index = [.. nearest.Select(d => mean > 0 ? d / mean : 0)];
        return (new(state with { MeanDistance = mean, Threshold = UpperWhisker(index) }), index);
    }

    /// <summary>DI of one complete row of features.</summary>
    public double DissimilarityOf(ReadOnlySpan<float> features)
    {
        Span<double> point = stackalloc double[features.Length];
        Scale(State, features, point);
        double distance = _tree.NearestDistance(point);
        return State.MeanDistance > 0 ? distance / State.MeanDistance : 0;
    }

    /// <summary>Local data density: training rows whose DI to this one is at most the threshold.</summary>
    public int DensityAt(ReadOnlySpan<float> features)
    {
        Span<double> point = stackalloc double[features.Length];
        Scale(State, features, point);
        return _tree.CountWithin(point, State.Threshold * State.MeanDistance);
    }

    public bool IsApplicable(double dissimilarity) => dissimilarity <= State.Threshold;

    /// <summary>75th percentile + 1.5 interquartile ranges, quantiles by linear interpolation (type 7 of Hyndman and Fan 1996), and at most
    /// the largest value.</summary>
    internal static double UpperWhisker(IReadOnlyList<double> values)
    {
        double[] sorted = [.. values.Order()];
        double q1 = Quantile(sorted, 0.25), q3 = Quantile(sorted, 0.75);
        return Math.Min(q3 + 1.5 * (q3 - q1), sorted[^1]);
    }

    internal static double Quantile(double[] sorted, double p) => SortedArrayStatistics.QuantileCustom(sorted, p, QuantileDefinition.R7);

    private static double[] Scaled(ApplicabilityState state)
    {
        int width = state.Means.Length;
        double[] points = new double[state.Rows.Length];
        for (int at = 0; at < points.Length; at += width)
            Scale(state, state.Rows.AsSpan(at, width), points.AsSpan(at, width));
        return points;
    }

    private static void Scale(ApplicabilityState state, ReadOnlySpan<float> features, Span<double> point)
    {
        for (int c = 0; c < features.Length; c++)
            point[c] = (features[c] - state.Means[c]) * state.Scales[c];
    }

    private static double Distance(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        double sum = 0;
        for (int d = 0; d < a.Length; d++)
            sum += (a[d] - b[d]) * (a[d] - b[d]);
        return Math.Sqrt(sum);
    }
}
