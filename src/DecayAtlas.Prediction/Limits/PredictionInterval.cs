namespace DecayAtlas.Prediction.Limits;

/// <summary>The quantile of a kind of place that has rows enough for one of its own.</summary>
public sealed record KindQuantile(string Kind, int Rows, double Quantile);

/// <summary>
/// Conformal interval of a site's mean as it is measured with the lots of the training rows: prediction ± <paramref name="Quantile"/>
/// · (<paramref name="Base"/> + <paramref name="Slope"/> · DI), on the scale of the target. DI is the dissimilarity index, so that the
/// interval widens where training rows are unlike. A kind of place (ecosystem) with rows enough has a quantile of its own.
/// </summary>
/// <remarks>
/// Source: normalised split conformal prediction (Lei et al. 2018, Journal of the American Statistical Association 113:1094-1111,
/// section 5.2) on residuals of held-out spatial blocks: cross-conformal in the plain form of Vovk 2015 (from memory); by kind: Mondrian
/// conformal prediction (Vovk, Gammerman and Shafer 2005, section 4.5, from memory). The quantile is the ceil((n + 1) level)-th smallest
/// of n scaled residuals. Strict coverage needs exchangeable rows, which neighbours are not; so coverage is measured, fold against fold,
/// and told in the card.
/// </remarks>
/// <param name="Level">Share of new site-campaign means that the interval is to hold.</param>
/// <param name="Base">Expected absolute error at DI 0.</param>
/// <param name="Slope">Its rise by one unit of DI, at least 0.</param>
/// <param name="Quantile">Multiple of the expected absolute error; infinite where the rows are too few for the level.</param>
public sealed record PredictionInterval(double Level, double Base, double Slope, double Quantile)
{
    /// <summary>A kind with fewer rows takes the common quantile.</summary>
    public const int FewestOfKind = 20;

    /// <summary>In ordinal order.</summary>
    public IReadOnlyList<KindQuantile> Kinds { get; init; } = [];

    /// <summary>Half the width of the interval at a dissimilarity.</summary>
    /// <param name="kind">Of the place, where that is known and one of <see cref="Kinds"/>; else the common quantile is taken.</param>
    public double HalfWidthAt(double dissimilarity, string? kind = null) => HalfWidthOf(OwnOf(kind), dissimilarity);

    /// <param name="own">Of the kind of the place; missing where it has none of its own.</param>
    internal double HalfWidthOf(KindQuantile? own, double dissimilarity) =>
        (own?.Quantile ?? Quantile) * (Base + Slope * dissimilarity);

    /// <summary>What a kind has of its own, in whatever capitals it is written; missing where the common quantile is taken.</summary>
    internal KindQuantile? OwnOf(string? kind)
    {
        if (kind is null)
            return null;
        string key = CovariateClasses.KeyOf(kind);
        return Kinds.FirstOrDefault(known => CovariateClasses.KeyOf(known.Kind) == key);
    }

    /// <summary>Calibrates on held-out residuals.</summary>
    internal static PredictionInterval Of(double level, IReadOnlyList<double> residuals, IReadOnlyList<double> dissimilarity,
        IReadOnlyList<string?>? kinds = null)
    {
        (double intercept, double slope) = ErrorLine(residuals, dissimilarity);
        double[] scaled = [.. residuals.Select((r, i) => Math.Abs(r) / (intercept + slope * dissimilarity[i]))];
        return new(level, intercept, slope, QuantileOf(scaled, level))
        {
            Kinds = kinds is null ? [] :
            [
                .. scaled.Zip(kinds).Where(x => x.Second is not null)
                    .GroupBy(x => CovariateClasses.KeyOf(x.Second!), StringComparer.Ordinal)
                    .Where(g => g.Count() >= FewestOfKind && RankOf(g.Count(), level) <= g.Count())
                    .Select(g => new KindQuantile(CovariateClasses.SpellingOf(g.Select(x => x.Second!)), g.Count(),
                        QuantileOf([.. g.Select(x => x.First)], level)))
                    .OrderBy(k => k.Kind, StringComparer.Ordinal),
            ],
        };
    }

    /// <summary>Which of the scaled residuals, by size from 1, is the quantile; more than there are where they are too few for the
    /// level.</summary>
    internal static int RankOf(int residuals, double level) => (int)Math.Ceiling((residuals + 1) * level);

    private static double QuantileOf(double[] scaled, double level) =>
        RankOf(scaled.Length, level) is var rank && rank > scaled.Length ? double.PositiveInfinity : scaled.Order().ElementAt(rank - 1);

    /// <summary>Least-squares line of |residual| on DI; never falling, and at DI 0 at least a quarter of the mean (so that no place is
    /// called exact).</summary>
    private static (double Intercept, double Slope) ErrorLine(IReadOnlyList<double> residuals, IReadOnlyList<double> dissimilarity)
    {
        double meanError = residuals.Average(Math.Abs), meanIndex = dissimilarity.Average();
        if (meanError == 0)
            return (double.Epsilon, 0);
        double sxx = dissimilarity.Sum(d => (d - meanIndex) * (d - meanIndex));
        double sxy = residuals.Select((r, i) => (Math.Abs(r) - meanError) * (dissimilarity[i] - meanIndex)).Sum();
        if (!(sxx > 0) || !(meanIndex > 0))
            return (meanError, 0);
        double slope = Math.Clamp(sxy / sxx, 0, 0.75 * meanError / meanIndex);
        return (meanError - slope * meanIndex, slope);
    }
}
