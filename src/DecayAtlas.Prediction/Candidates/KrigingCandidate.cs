namespace DecayAtlas.Prediction.Candidates;

/// <summary>
/// Universal kriging: curves of second degree in the covariates, their slopes shrunk, and a Gaussian process in space, all fitted together.
/// A row is the trend, the field at its site, what the site has of its own, and what the row has, its known error included; only the trend
/// and the field are predicted. Far from all sites the field fades, and the trend is left.
/// </summary>
/// <remarks>
/// Source: Cressie 1993, Statistics for Spatial Data, section 3.4 (from memory). The likeness of the field is exponential in the chord
/// (<see cref="SpatialField"/>). Tried on the demo's rows and left out: Matérn with 3/2, and a process on the covariates besides.
/// </remarks>
internal sealed class KrigingCandidate() : Candidate("kriging", "Curves and a field in space (kriging)")
{
    /// <summary>More sites take minutes a fit.</summary>
    public const int MostSites = 2000;

    public override bool KnowsPlaces => true;

    public override IReadOnlyList<Setting> Settings(TrainingOptions options) => [new()];

    /// <summary>Why it is not tried on some rows; missing where it is.</summary>
    public static string? WhyAbsent(IReadOnlyList<TrainingRow> rows)
    {
        int sites = rows.Select(r => r.SiteKey).Distinct(StringComparer.Ordinal).Count();
        return sites > MostSites ? Invariant($"there are {sites} sites, more than the {MostSites} up to which it is quick enough")
            : rows.Select(r => (r.LatitudeDegrees, r.LongitudeDegrees)).Distinct().Count() < 2 ? "all sites lie at one place" : null;
    }

    public override FittedModel Fit(CovariateTable table, Setting setting, TrainingOptions options) =>
        FittedModel.Of(new KrigingFit(table).Formula);

    /// <remarks>The variances stay those of all rows, and so does the field, which every member draws from all rows anew after taking off its
    /// own trend: of the choice of sites the trend alone is unsure, and near sites what it is off by the field takes up. Blocks are
    /// independent, as everywhere: the trend adds up what each drawn block says.</remarks>
    public override Func<MemberDraw, RatePredictor> MemberFit(CovariateTable table, int[] blockOf, Setting setting,
        TrainingOptions options)
    {
        KrigingFit fit = new(table);
        int[][] rowsOf = [.. Enumerable.Range(0, blockOf.Max() + 1)
            .Select(b => Enumerable.Range(0, table.Count).Where(r => blockOf[r] == b).ToArray())];
        KrigingCovariance[] ofBlock = [.. rowsOf.Select(rows => fit.CovarianceOf(KrigingRows.Of([.. rows.Select(r => table.Rows[r])])))];
        SpatialField field = fit.Formula.Field!;
        return draw =>
        {
            double[][] rows = fit.Terms.RowsOf(table.Of(draw.Rows));
            double[][] cross = [.. Enumerable.Range(1, rows[0].Length).Select(i => new double[i])];
            foreach (IGrouping<int, int> block in draw.Blocks.GroupBy(b => b).OrderBy(b => b.Key))
            {
                double[][] of = ofBlock[block.Key].Cross([.. rowsOf[block.Key].Select(r => rows[r])]);
                for (int i = 0; i < cross.Length; i++)
                {
                    for (int j = 0; j <= i; j++)
                        cross[i][j] += block.Count() * of[i][j];
                }
            }
            return new FormulaPredictor(fit.FormulaOf(rows, cross, field));
        };
    }
}

/// <summary>A table with its variances and their covariance.</summary>
internal sealed class KrigingFit
{
    private readonly KrigingVariances _variances;
    private readonly KrigingCovariance _covariance;

    public KrigingFit(CovariateTable table)
    {
        Terms = KrigingTerms.Of(table);
        double[][] rows = Terms.RowsOf(table);
        KrigingRows places = KrigingRows.Of(table.Rows);
        _variances = KrigingSearch.Reml(table.Rows, rows);
        _covariance = CovarianceOf(places);
        Formula = FormulaOf(rows, _covariance.Cross(rows), SpatialField.Of(places.Places, _variances.RangeMetres));
    }

    public KrigingTerms Terms { get; }

    public KrigingFormula Formula { get; }

    public KrigingCovariance CovarianceOf(KrigingRows rows) => KrigingCovariance.Of(rows, _variances) ?? throw Singular();

    public KrigingFormula FormulaOf(double[][] rows, double[][] cross, SpatialField field)
    {
        KrigingTrend trend = KrigingTrend.Of(cross, _variances.Slopes) ?? throw Singular();
        (double[] weights, double meanShared) = _covariance.Left(rows, trend.Coefficients);
        // with the lots of the training rows, as every candidate predicts
        return new(Terms.CurvesOf([trend.Coefficients[0] + meanShared, .. trend.Coefficients[1..]]), [.. weights.Select(w => (float)w)],
            field);
    }

    private static PredictionException Singular() => new("The covariance of its rows is singular to rounding.");
}

/// <summary>Covariates and their squares, standardised as the rows of one table have them.</summary>
internal sealed record KrigingTerms(double[] Means, double[] Scales, double[] TermMeans, double[] TermScales)
{
    public static KrigingTerms Of(CovariateTable table)
    {
        int width = table.FeatureCount;
        double total = table.Weights.Sum();
        (double Mean, double Scale)[] covariates = [.. Enumerable.Range(0, width)
            .Select(c => RidgeRegression.Moments(r => table.FeaturesOf(r)[c], table.Weights, total))];
        KrigingTerms plain = new([.. covariates.Select(m => m.Mean)], [.. covariates.Select(m => m.Scale)], new double[2 * width],
            [.. Enumerable.Repeat(1.0, 2 * width)]);
        double[][] rows = plain.RowsOf(table);
        (double Mean, double Scale)[] terms = [.. Enumerable.Range(1, 2 * width)
            .Select(t => RidgeRegression.Moments(r => rows[r][t], table.Weights, total))];
        return plain with { TermMeans = [.. terms.Select(m => m.Mean)], TermScales = [.. terms.Select(m => m.Scale)] };
    }

    /// <summary>One array a row: 1, the terms, and the target.</summary>
    public double[][] RowsOf(CovariateTable table)
    {
        double[][] rows = new double[table.Count][];
        double[] z = new double[Means.Length], terms = new double[TermMeans.Length];
        for (int r = 0; r < rows.Length; r++)
        {
            ReadOnlySpan<float> features = table.FeaturesOf(r);
            for (int c = 0; c < z.Length; c++)
                z[c] = (features[c] - Means[c]) * Scales[c];
            CurvesFormula.Expand(z, terms);
            rows[r] = [1, .. terms.Select((t, i) => (t - TermMeans[i]) * TermScales[i]), table.Targets[r]];
        }
        return rows;
    }

    /// <param name="coefficients">The intercept first.</param>
    public CurvesFormula CurvesOf(double[] coefficients)
    {
        double[] slopes = [.. TermScales.Select((s, i) => s * coefficients[i + 1])];
        return new(Means, Scales, slopes, coefficients[0] - slopes.Zip(TermMeans, (b, m) => b * m).Sum());
    }
}
