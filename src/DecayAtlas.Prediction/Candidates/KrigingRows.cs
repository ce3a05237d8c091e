namespace DecayAtlas.Prediction.Candidates;

/// <summary>What rows differ by beyond their covariates, as variances on the scale of the target.</summary>
/// <param name="Field">Of the field that varies in space.</param>
/// <param name="RangeMetres">Chord over which the likeness of the field falls to 1/e.</param>
/// <param name="Sites">Of what a site has of its own, the same in all its rows.</param>
/// <param name="Rows">Of what a row has of its own, its known error aside; of a row of weight 1 where that is not known.</param>
/// <param name="Slopes">Of the slopes of standardised terms, which it shrinks; infinite for none.</param>
internal sealed record KrigingVariances(double Field, double RangeMetres, double Sites, double Rows, double Slopes);

/// <summary>Rows at sites: which site each is of, where these lie, and what is known of the errors of rows.</summary>
internal sealed class KrigingRows
{
    private KrigingRows(int[] siteOf, GeoPoint[] places, double[][] chords, IReadOnlyList<TrainingRow> rows)
    {
        (SiteOf, Places, Chords) = (siteOf, places, chords);
        Own = [.. rows.Select(r => r.Errors.OwnVariance)];
        Scales = [.. rows.Select(r => r.Errors.OwnVariance > 0 ? 1 : 1 / r.Weight)];
        RowsAt = new int[places.Length];
        foreach (int site in siteOf)
            RowsAt[site]++;
        (SharedError Error, int Row)[] shared =
            [.. rows.SelectMany((row, r) => row.Errors.Shared.Where(s => !s.IsTakenOff).Select(s => (s, r)))];
        Dictionary<string, double> effects = shared.GroupBy(s => MeanOver(s.Error), StringComparer.Ordinal)
            .ToDictionary(g => g.Key, g => g.Average(s => s.Error.OnTarget), StringComparer.Ordinal);
        // quantities of the same rows add up to one
        (int[] Rows, double Effect)[] columns = [.. shared.GroupBy(s => s.Error.Quantity, StringComparer.Ordinal)
            .Select(g => (Rows: g.Select(x => x.Row).Distinct().Order().ToArray(), Effect: effects[MeanOver(g.First().Error)]))
            .GroupBy(q => string.Join(' ', q.Rows), StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal)
            .Select(g => (g.First().Rows, Math.Sqrt(g.Sum(q => q.Effect * q.Effect))))];
        Shared = [.. rows.Select(_ => new double[columns.Length])];
        for (int q = 0; q < columns.Length; q++)
        {
            foreach (int r in columns[q].Rows)
                Shared[r][q] = columns[q].Effect;
        }
    }

    public int[] SiteOf { get; }

    /// <summary>Of the sites; that of the first row counts.</summary>
    public GeoPoint[] Places { get; }

    /// <summary>Between sites, m: row i has i + 1 numbers.</summary>
    public double[][] Chords { get; }

    /// <summary>Variance that the burials and weighings of a row make it wrong by.</summary>
    public double[] Own { get; }

    /// <summary>By what the variance that a row has of its own is multiplied: where its error is not known, its weight stands for
    /// it.</summary>
    public double[] Scales { get; }

    /// <summary>What one standard uncertainty of each quantity that rows share does to each row that has it: of a lot the mean over its
    /// rows, of a batch that over all batches. At the k of the row itself it would tell k, which made it.</summary>
    public double[][] Shared { get; }

    /// <summary>How many rows each site has.</summary>
    public int[] RowsAt { get; }

    public double LongestChordMetres => Chords.Max(c => c.Max());

    private static string MeanOver(SharedError error) => error.IsOfBatch ? "batch/" + error.Kind : error.Quantity;

    public static KrigingRows Of(IReadOnlyList<TrainingRow> rows)
    {
        Dictionary<string, int> sites = new(StringComparer.Ordinal);
        List<GeoPoint> places = [];
        int[] siteOf = new int[rows.Count];
        for (int r = 0; r < rows.Count; r++)
        {
            if (sites.TryAdd(rows[r].SiteKey, places.Count))
                places.Add(new(rows[r].LongitudeDegrees, rows[r].LatitudeDegrees));
            siteOf[r] = sites[rows[r].SiteKey];
        }
        double[][] chords = [.. places.Select((one, i) =>
            places.Take(i + 1).Select(two => SpatialField.ChordMetres(one, two)).ToArray())];
        return new(siteOf, [.. places], chords, rows);
    }
}

/// <summary>
/// The covariance of rows under given variances, factored. Rows of one site are taken together: what their means and what their
/// differences say add up exactly, so that the factor has the size of the sites. What rows of a lot or of a batch err by together is
/// known, and no part of the field, though sites of one batch mostly lie near each other.
/// </summary>
/// <remarks>With R the variances of rows by themselves, Z which site a row is of, B the covariance of sites and D = Zᵀ R⁻¹ Z, the inverse
/// of K = R + Z B Zᵀ leaves within a site R⁻¹ and of the weighted means (B + D⁻¹)⁻¹; that of K + U Uᵀ, with U what one standard
/// uncertainty of each shared quantity does to each row, is K⁻¹ - K⁻¹ U (1 + Uᵀ K⁻¹ U)⁻¹ Uᵀ K⁻¹ (the matrix inversion lemma, both
/// times).</remarks>
internal sealed class KrigingCovariance
{
    private readonly KrigingRows _rows;
    private readonly double[] _rowWeights, _siteWeights;
    private readonly DenseCholesky _means, _shared;
    private readonly double _field;

    /// <summary>Of the columns of U: means of sites, and these whitened.</summary>
    private readonly double[][] _sharedMeans, _sharedWhite;

    private KrigingCovariance(KrigingRows rows, double[] rowWeights, double[] siteWeights, DenseCholesky means, double field)
    {
        (_rows, _rowWeights, _siteWeights, _means, _field) = (rows, rowWeights, siteWeights, means, field);
        _sharedMeans = MeansOf(rows.Shared);
        _sharedWhite = White(_sharedMeans);
        double[][] normal = Plain(rows.Shared, _sharedMeans, _sharedWhite);
        for (int q = 0; q < normal.Length; q++)
            normal[q][q]++;
        _shared = DenseCholesky.Of(normal)!;
        LogDeterminant = means.LogDeterminant + siteWeights.Sum(Math.Log) - rowWeights.Sum(Math.Log) + _shared.LogDeterminant;
    }

    public double LogDeterminant { get; }

    /// <returns>Nothing where it is singular to rounding.</returns>
    public static KrigingCovariance? Of(KrigingRows rows, KrigingVariances variances)
    {
        int sites = rows.Places.Length;
        double[] ofRows = [.. rows.Own.Zip(rows.Scales, (own, scale) => 1 / (variances.Rows * scale + own))], ofSites = new double[sites];
        for (int r = 0; r < ofRows.Length; r++)
            ofSites[rows.SiteOf[r]] += ofRows[r];
        double[][] means = new double[sites][];
        double perMetre = -1 / variances.RangeMetres;
        for (int i = 0; i < sites; i++)
        {
            means[i] = new double[i + 1];
            for (int j = 0; j < i; j++)
                means[i][j] = variances.Field * Math.Exp(perMetre * rows.Chords[i][j]);
            means[i][i] = variances.Field + variances.Sites + 1 / ofSites[i];
        }
        return DenseCholesky.Of(means) is { } factor ? new(rows, ofRows, ofSites, factor, variances.Field) : null;
    }

    /// <summary>Xᵀ V⁻¹ X of the columns X, one array a row, under the whole covariance V: the lower triangle.</summary>
    public double[][] Cross(double[][] rows)
    {
        double[][] means = MeansOf(rows), white = White(means), cross = Plain(rows, means, white);
        double[][] shared = WithShared(rows, means, white);
        foreach (double[] column in shared)
            _shared.Forward(column);
        for (int i = 0; i < cross.Length; i++)
        {
            for (int j = 0; j <= i; j++)
                cross[i][j] -= SpatialField.Dot(shared[i], shared[j]);
        }
        return cross;
    }

    /// <summary>Of what the trend leaves: by how much each site draws the field towards it, and what lots and batches are found to add to a
    /// row on average.</summary>
    /// <param name="rows">The terms of each row, and its target last.</param>
    public (double[] Weights, double MeanShared) Left(double[][] rows, double[] coefficients)
    {
        double[][] left = [.. rows.Select(r => new[] { r[^1] - SpatialField.Dot(r.AsSpan(0, r.Length - 1), coefficients) })];
        double[][] means = MeansOf(left);
        double[] shared = WithShared(left, means, White(means))[0];
        _shared.Solve(shared);
        double[] ofSites = means[0];
        for (int q = 0; q < shared.Length; q++)
        {
            for (int s = 0; s < ofSites.Length; s++)
                ofSites[s] -= shared[q] * _sharedMeans[q][s];
        }
        _means.Solve(ofSites);
        return ([.. ofSites.Select(x => _field * x)], _rows.Shared.Average(u => SpatialField.Dot(u, shared)));
    }

    /// <summary>Weighted means of sites, one array a column.</summary>
    private double[][] MeansOf(double[][] rows)
    {
        double[][] means = [.. rows[0].Select(_ => new double[_siteWeights.Length])];
        for (int r = 0; r < rows.Length; r++)
        {
            int site = _rows.SiteOf[r];
            double share = _rowWeights[r] / _siteWeights[site];
            for (int c = 0; c < means.Length; c++)
                means[c][site] += share * rows[r][c];
        }
        return means;
    }

    private double[][] White(double[][] means)
    {
        double[][] white = [.. means.Select(column => (double[])[.. column])];
        foreach (double[] column in white)
            _means.Forward(column);
        return white;
    }

    /// <summary>Xᵀ K⁻¹ X, the lower triangle.</summary>
    private double[][] Plain(double[][] rows, double[][] means, double[][] white)
    {
        double[][] cross = [.. white.Select((one, i) => white.Take(i + 1).Select(two => SpatialField.Dot(one, two)).ToArray())];
        AddWithin(rows, means, rows, means, (i, j, value) =>
        {
            if (j <= i)
                cross[i][j] += value;
        });
        return cross;
    }

    /// <summary>Xᵀ K⁻¹ U, one array a column of X.</summary>
    private double[][] WithShared(double[][] rows, double[][] means, double[][] white)
    {
        double[][] cross = [.. white.Select(one => _sharedWhite.Select(two => SpatialField.Dot(one, two)).ToArray())];
        AddWithin(rows, means, _rows.Shared, _sharedMeans, (i, j, value) => cross[i][j] += value);
        return cross;
    }

    /// <summary>What rows say by how they differ from their site's mean; a site of one row says nothing so.</summary>
    private void AddWithin(double[][] rows, double[][] means, double[][] others, double[][] otherMeans, Action<int, int, double> add)
    {
        for (int r = 0; r < rows.Length; r++)
        {
            int site = _rows.SiteOf[r];
            if (_rows.RowsAt[site] == 1)
                continue;
            for (int i = 0; i < means.Length; i++)
            {
                double apart = _rowWeights[r] * (rows[r][i] - means[i][site]);
                if (apart == 0)
                    continue;
                for (int j = 0; j < otherMeans.Length; j++)
                {
                    double other = others[r][j] - otherMeans[j][site];
                    if (other != 0)
                        add(i, j, apart * other);
                }
            }
        }
    }
}

/// <summary>Generalised least squares with shrunk slopes: the first term is the intercept, which is free.</summary>
/// <param name="Criterion">-2 ln of the restricted likelihood, but for the determinant of the rows' covariance and the constant.</param>
internal sealed record KrigingTrend(double[] Coefficients, double Criterion)
{
    private DenseCholesky Normal { get; init; } = null!;

    /// <summary>Coefficients as unsure as they are, as they might have been of other sites (normal).</summary>
    public double[] Drawn(Random random)
    {
        double[] off = [.. Coefficients.Select(_ => MathNet.Numerics.Distributions.Normal.Sample(random, 0, 1))];
        Normal.Backward(off);
        return [.. Coefficients.Zip(off, (c, o) => c + o)];
    }

    /// <param name="cross">Of the terms, and the target last (<see cref="KrigingCovariance.Cross"/>).</param>
    /// <param name="slopes">Variance of the slopes; infinite for free ones.</param>
    public static KrigingTrend? Of(double[][] cross, double slopes)
    {
        int terms = cross.Length - 1;
        double[][] normal = [.. cross.Take(terms).Select(row => (double[])[.. row])];
        for (int t = 1; t < terms; t++)
            normal[t][t] += 1 / slopes;
        if (DenseCholesky.Of(normal) is not { } factor)
            return null;
        double[] right = cross[terms][..terms], found = [.. right];
        factor.Solve(found);
        double left = cross[terms][terms] - SpatialField.Dot(found, right);
        return new(found, factor.LogDeterminant + left + (double.IsFinite(slopes) ? (terms - 1) * Math.Log(slopes) : 0))
        {
            Normal = factor,
        };
    }
}
