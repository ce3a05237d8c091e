namespace DecayAtlas.Pipeline.Steps;

/// <summary>
/// What a release knows of how the rows of a training set may be off: burials by their scatter, pooled over all sites, and by their own
/// weighings; lots and batches by what they share; covariates by what lies under the circle of a site's uncertainty.
/// </summary>
internal sealed class TrainingErrors
{
    private readonly bool _isRate;
    private readonly double _scatter;
    private readonly ILookup<(string, string, string?, string), ReleasedPlot> _plots;
    private readonly ILookup<(string, string, string?, string, string), ReleasedSharedError> _shared;
    private readonly Dictionary<(string, string), double> _covariateSds;

    /// <param name="isRate">Whether the target is ln k; else it is S.</param>
    /// <param name="means">Standard deviation between the burials of each weighed mean, and how many they are.</param>
    public TrainingErrors(IReleasedRows release, bool isRate, IEnumerable<(double? Sd, int Count)> means)
    {
        _isRate = isRate;
        ReleasedPlot[] plots = [.. release.Rows(AtlasTables.Plots).Where(p => p.IsUntreated && CountOf(p) > 0)];
        _plots = plots.ToLookup(p => (p.SiteKey, p.Campaign, p.Treatment, p.Evidence));
        _shared = release.Rows(AtlasTables.SharedErrors).ToLookup(e => (e.SiteKey, e.Campaign, e.Treatment, e.Evidence, e.ErrorSet));
        _covariateSds = release.Rows(AtlasTables.Covariates).Where(c => c.Value is not null && !c.IsClass && c.StandardDeviation > 0)
            .ToDictionary(c => (c.SiteKey, c.Covariate), c => c.StandardDeviation!.Value);
        (double? Sd, int Count)[] replicated = [.. means.Where(m => m is { Sd: not null, Count: > 1 })];
        int freedom = replicated.Sum(m => m.Count - 1), burials = plots.Sum(CountOf);
        double pooled = freedom == 0 ? 0 : replicated.Sum(m => Square(m.Sd) * (m.Count - 1)) / freedom;
        double weighings = burials == 0 ? 0 : plots.Sum(p => CountOf(p) * Square(OfWeighing(p))) / burials;
        _scatter = Math.Max(0, pooled - weighings);
    }

    /// <param name="at">The mean that the row holds.</param>
    /// <param name="ownSd">Standard deviation between burials of a mean that was sent in their place; missing for weighed ones.</param>
    /// <param name="count">Its burials.</param>
    /// <param name="covariates">Of the model, by name.</param>
    public RowErrors Of(ReleasedSiteCampaign at, double? ownSd, int count, IEnumerable<string> covariates)
    {
        ReleasedPlot[] plots = [.. _plots[(at.SiteKey, at.Campaign, at.Treatment, at.Evidence)]];
        double burials = Math.Max(1, plots.Sum(CountOf));
        double ofOne = ownSd is > 0 ? Square(ownSd) : _scatter + plots.Sum(p => CountOf(p) * Square(OfWeighing(p))) / burials;
        return new(
            ofOne / Math.Max(1, count),
            [
                .. plots.SelectMany(p => _shared[(p.SiteKey, p.Campaign, p.Treatment, p.Evidence, p.ErrorSet)],
                        (p, e) => (Error: e, Share: CountOf(p) / burials))
                    .GroupBy(x => $"{x.Error.SharedBy}/{x.Error.SharedId}/{x.Error.Quantity}", StringComparer.Ordinal)
                    .OrderBy(g => g.Key, StringComparer.Ordinal)
                    .Select(g => new SharedError(g.Key, g.Sum(x => x.Share * (_isRate ? x.Error.OnLnRate : x.Error.OnStabilisation)),
                        g.First().Error.SharedBy == AtlasCode.Of(SharedSource.Batch),
                        g.First().Error.Quantity.EndsWith("-range", StringComparison.Ordinal)))
                    .Where(s => s.OnTarget != 0),
            ],
            [.. covariates.Select(c => _covariateSds.GetValueOrDefault((at.SiteKey, c)))]);
    }

    private int CountOf(ReleasedPlot plot) => _isRate ? plot.LnRateBurials : plot.StabilisationBurials;

    private double? OfWeighing(ReleasedPlot plot) => _isRate ? plot.LnRateUncertaintyBag : plot.StabilisationUncertaintyBag;

    private static double Square(double? x) => x * x ?? 0;
}
