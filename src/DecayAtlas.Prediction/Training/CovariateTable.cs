namespace DecayAtlas.Prediction.Training;

/// <summary>
/// The training set as dense columns in one canonical row order, so that the order in which rows arrive cannot change a
/// model. Features are row-major, <see cref="FeatureCount"/> values a row, in the single precision that ML.NET trains on.
/// </summary>
internal sealed class CovariateTable
{
    private CovariateTable(IReadOnlyList<TrainingRow> rows, FeatureCoding coding)
    {
        Rows = rows;
        Coding = coding;
        Features = new float[rows.Count * coding.Count];
        for (int r = 0; r < rows.Count; r++)
        {
            for (int c = 0; c < rows[r].Covariates.Count; c++)
                coding.Put(c, (float)rows[r].Covariates[c], Features.AsSpan(r * coding.Count, coding.Count));
        }

        Targets = rows.Select(r => r.Target).ToArray();
        Weights = rows.Select(r => r.Weight).ToArray();
        Places = rows.Select(r => new GeoPoint(r.LongitudeDegrees, r.LatitudeDegrees)).ToArray();
    }

    public IReadOnlyList<TrainingRow> Rows { get; }

    /// <summary>How covariates become features.</summary>
    public FeatureCoding Coding { get; }

    public int FeatureCount => Coding.Count;

    public float[] Features { get; }

    public double[] Targets { get; }

    public double[] Weights { get; }

    /// <summary>Where each row lies.</summary>
    public GeoPoint[] Places { get; }

    public int Count => Rows.Count;

    public ReadOnlySpan<float> FeaturesOf(int row) => Features.AsSpan(row * FeatureCount, FeatureCount);

    public IEnumerable<double> Column(int feature) => Enumerable.Range(0, Count).Select(r => (double)FeaturesOf(r)[feature]);

    public static CovariateTable Of(TrainingSet set) => new(Canonical(set.Rows), FeatureCoding.Of(set.Covariates));

    /// <summary>Other rows of the same covariates, in the order given.</summary>
    public CovariateTable Of(IReadOnlyList<TrainingRow> rows) => new(rows, Coding);

    public CovariateTable Subset(IEnumerable<int> rows) => new(rows.Select(r => Rows[r]).ToList(), Coding);

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
