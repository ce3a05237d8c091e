namespace DecayAtlas.Questions.Tests.Slopes;

/// <summary>A release made by plain sums: 30 sites that join in one of six years and stay one to four, seasons, and a change of ln k a
/// year; also a quantity of each site that ln k moves with.</summary>
internal sealed class ReleaseWithAChange : IReleasedRows
{
    public const double LnRatePerYear = -0.05, LnRatePerUnit = 0.3;
    private const int Years = 6;
    private readonly List<ReleasedSite> _sites = new();
    private readonly List<ReleasedCovariate> _covariates = new();
    private readonly List<ReleasedSiteCampaign> _campaigns = new();
    private readonly ReleasedPlot[] _plots;

    public ReleaseWithAChange(int seed)
    {
        RandomStream random = new((ulong)seed, "change");
        double[] seasons = [.. Enumerable.Range(0, Years).Select(_ => 0.1 * random.NextNormalPair().Item1)];
        List<PlotBurial> burials = new();
        for (int s = 0; s < 30; s++)
        {
            string key = $"g/s{s:00}";
            (double site, double quantity) = random.NextNormalPair();
            _sites.Add(new ReleasedSite
            {
                SiteKey = key,
                ContributorId = "g",
                ContributionId = "g-1",
                IsGeneralised = false,
                Use = "accepted",
            });
            _covariates.Add(new ReleasedCovariate { SiteKey = key, Covariate = "quantity", Value = quantity });
            int first = random.NextIndex(Years), last = Math.Min(Years - 1, first + random.NextIndex(4));
            for (int year = first; year <= last; year++)
            {
                DateOnly buried = new DateOnly(2018 + year, 4, 1).AddDays(random.NextIndex(100));
                _campaigns.Add(new ReleasedSiteCampaign
                {
                    SiteKey = key,
                    Campaign = $"c{year}",
                    Burials = 1,
                    FirstBuriedOn = buried,
                    LastRetrievedOn = buried.AddDays(90),
                    RateBurials = 1,
                    RateNotPositiveBurials = 0,
                    RateAtLeastBurials = 0,
                    LnRateBurials = 1,
                    StabilisationBurials = 1,
                });
                double years = (buried.DayNumber - new DateOnly(2018, 4, 1).DayNumber) / 365.25;
                double mean = -4.5 + 0.3 * site + LnRatePerUnit * quantity + LnRatePerYear * years + seasons[year]
                    + 0.12 * random.NextNormalPair().Item1;
                int count = 2 + random.NextIndex(4);
                for (int b = 0; b < count; b++)
                {
                    (double k, double other) = random.NextNormalPair();
                    burials.Add(new PlotBurial(
                        key, $"c{year}", null, null, $"{burials.Count}", "", mean + 0.2 * k, null, 0.25 + 0.04 * other));
                }
            }
        }

        _plots = [.. ReleasedPlot.Of(burials, _ => null)];
    }

    public IReadOnlyList<TRow> Rows<TRow>(Table<TRow> table)
        where TRow : class => table.Name switch
        {
            "sites" => Of<TRow, ReleasedSite>(_sites),
            "covariates" => Of<TRow, ReleasedCovariate>(_covariates),
            "site_campaigns" => Of<TRow, ReleasedSiteCampaign>(_campaigns),
            "plots" => Of<TRow, ReleasedPlot>(_plots),
            _ => [],
        };

    private static IReadOnlyList<TRow> Of<TRow, TOwn>(IEnumerable<TOwn> rows) => [.. rows.Cast<TRow>()];
}
