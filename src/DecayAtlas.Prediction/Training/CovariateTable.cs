namespace DecayAtlas.Prediction.Training;

/// <summary>
/// The training set as dense columns in one canonical row order, so that the order in which rows arrive cannot change a
/// model. Features are row-major, <see cref="FeatureCount"/> values a row, in the single precision that ML.NET trains on.
/// </summary>
internal sealed class CovariateTable
{
    private CovariateTable(IReadOnlyList<TrainingRow> rows, int featureCount)
    {
        Rows = rows;
        FeatureCount = featureCount;
        Features = rows.SelectMany(r => r.Covariates).Select(v => (float)v).ToArray();
        Targets = rows.Select(r => r.Target).ToArray();
        Weights = rows.Select(r => r.Weight).ToArray();
        Places = rows.Select(r => new GeoPoint(r.LongitudeDegrees, r.LatitudeDegrees)).ToArray();
    }

    public IReadOnlyList<TrainingRow> Rows { get; }

    public int FeatureCount { get; }

    public float[] Features { get; }

    public double[] Targets { get; }

    public double[] Weights { get; }

    /// <summary>Where each row lies.</summary>
    public GeoPoint[] Places { get; }

    public int Count => Rows.Count;

    public ReadOnlySpan<float> FeaturesOf(int row) => Features.AsSpan(row * FeatureCount, FeatureCount);

    public IEnumerable<double> Column(int covariate) => Enumerable.Range(0, Count).Select(r => (double)FeaturesOf(r)[covariate]);

    public static CovariateTable Of(TrainingSet set) => new(Canonical(set.Rows), set.Covariates.Count);

    /// <summary>Other rows of the same covariates, in the order given.</summary>
    public CovariateTable Of(IReadOnlyList<TrainingRow> rows) => new(rows, FeatureCount);

    public CovariateTable Subset(IEnumerable<int> rows) => new(rows.Select(r => Rows[r]).ToList(), FeatureCount);

    private static List<TrainingRow> Canonical(IReadOnlyList<TrainingRow> rows) =>
        rows.OrderBy(r => r.SiteKey, StringComparer.Ordinal)
            .ThenBy(r => r.Campaign, StringComparer.Ordinal)
            .ThenBy(r => r.FirstBuriedOn)
            .ThenBy(r => r.LastRetrievedOn)
            .ThenBy(r => r.Target)
            .ThenBy(r => r.Weight)
            .ThenBy(r => r.LatitudeDegrees)
            .ThenBy(r => r.LongitudeDegrees)
            .ThenBy(r => string.Join(',', r.Covariates.Select(v => Invariant($"{v:R}"))), StringComparer.Ordinal)
            .ToList();
}
