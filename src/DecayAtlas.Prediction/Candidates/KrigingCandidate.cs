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

    /// <remarks>The variances stay those of all rows, so that their covariance is factored once. What the choice of sites does to the trend
    /// is drawn from the covariance of its coefficients: blocks drawn anew are no unrelated ones where a field reaches over them. The field
    /// is drawn from all rows anew after that trend is taken off, so that near sites it makes good what the trend is off by.</remarks>
    public override Func<MemberDraw, RatePredictor> MemberFit(CovariateTable table, Setting setting, TrainingOptions options)
    {
        KrigingFit fit = new(table);
        return draw => new FormulaPredictor(fit.Redrawn(fit.Terms.RowsOf(table.Of(draw.Rows)), new Random(draw.Seed)));
    }
}

/// <summary>A table with its variances and their covariance.</summary>
internal sealed class KrigingFit
{
    private readonly KrigingVariances _variances;
    private readonly KrigingCovariance _covariance;
    private readonly SpatialField _field;

    public KrigingFit(CovariateTable table)
    {
        Terms = KrigingTerms.Of(table);
        double[][] rows = Terms.RowsOf(table);
        KrigingRows places = KrigingRows.Of(table.Rows);
        _variances = KrigingSearch.Reml(table.Rows, rows);
        _covariance = KrigingCovariance.Of(places, _variances) ?? throw Singular();
        _field = SpatialField.Of(places.Places, _variances.RangeMetres);
        Formula = FormulaOf(rows, TrendOf(rows).Coefficients);
    }

    public KrigingTerms Terms { get; }

    public KrigingFormula Formula { get; }

    /// <summary>Of rows of the same sites with other values, their trend drawn from what it may be.</summary>
    public KrigingFormula Redrawn(double[][] rows, Random random) => FormulaOf(rows, TrendOf(rows).Drawn(random));

    private KrigingTrend TrendOf(double[][] rows) => KrigingTrend.Of(_covariance.Cross(rows), _variances.Slopes) ?? throw Singular();

    private KrigingFormula FormulaOf(double[][] rows, double[] coefficients)
    {
        (double[] weights, double meanShared) = _covariance.Left(rows, coefficients);
        // with the lots of the training rows, as every candidate predicts
        return new(Terms.CurvesOf([coefficients[0] + meanShared, .. coefficients[1..]]), [.. weights.Select(w => (float)w)], _field);
    }

    private static PredictionException Singular() => new("The covariance of its rows is singular to rounding.");
}

/// <summary>Curves whose terms, the squares too, are standardised as the rows of one table have them.</summary>
internal sealed record KrigingTerms(StandardisedCurves Curves, double[] TermMeans, double[] TermScales)
{
    public static KrigingTerms Of(CovariateTable table)
    {
        StandardisedCurves curves = StandardisedCurves.Of(table);
        double[][] rows = curves.TermsOf(table);
        double total = table.Weights.Sum();
        (double Mean, double Scale)[] terms = [.. Enumerable.Range(0, 2 * table.FeatureCount)
            .Select(t => RidgeRegression.Moments(r => rows[r][t], table.Weights, total))];
        return new(curves, [.. terms.Select(m => m.Mean)], [.. terms.Select(m => m.Scale)]);
    }

    /// <summary>One array a row: 1, the terms, and the target.</summary>
    public double[][] RowsOf(CovariateTable table) =>
        [.. Curves.TermsOf(table).Select((terms, r) => (double[])
            [1, .. terms.Select((t, i) => (t - TermMeans[i]) * TermScales[i]), table.Targets[r]])];

    /// <param name="coefficients">The intercept first.</param>
    public CurvesFormula CurvesOf(double[] coefficients)
    {
        double[] slopes = [.. TermScales.Select((s, i) => s * coefficients[i + 1])];
        return new(Curves.Means, Curves.Scales, slopes, coefficients[0] - slopes.Zip(TermMeans, (b, m) => b * m).Sum());
    }
}
