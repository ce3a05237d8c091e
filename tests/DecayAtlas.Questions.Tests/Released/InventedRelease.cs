namespace DecayAtlas.Questions.Tests.Released;

/// <summary>A release made by plain sums: ecosystems, sites, campaigns and burials whose effects have the heavier tails of Student's t
/// with 6 degrees of freedom; 2 to 12 burials a site and campaign, a third of them 2; three lots that err; and known errors that are
/// told a little wrong.</summary>
internal sealed class InventedRelease : IReleasedRows
{
    public const double BurialSd = 0.25, BagSd = 0.1, LotSd = 0.06;
    private const double BagTold = 0.09, LotTold = 1.15;
    private const int Ecosystems = 8, Campaigns = 4;
    private static readonly string[] LandUses = ["crop", "forest", "grass"], Managements = ["conventional", "organic"];
    private readonly List<ReleasedSite> _sites = new();
    private readonly List<ReleasedSharedError> _shared = new();
    private readonly ReleasedPlot[] _plots;

    /// <param name="spread">1, or 0 for groups that do not differ at all.</param>
    public InventedRelease(int seed, int sites = 40, double spread = 1)
    {
        RandomStream random = new((ulong)seed, "release");
        (double K, double S)[] ecosystems = [.. Enumerable.Range(0, Ecosystems).Select(_ => Pair(0.25 * spread))];
        (double K, double S)[] campaigns = [.. Enumerable.Range(0, Campaigns).Select(_ => Pair(0.1))];
        double[] lots = [.. Enumerable.Range(0, 3).Select(_ => random.NextNormalPair().Item1)];
        List<PlotBurial> burials = new();
        for (int s = 0; s < sites; s++)
        {
            string key = $"g/s{s:000}";
            int e = random.NextIndex(Ecosystems);
            _sites.Add(new ReleasedSite
            {
                SiteKey = key,
                ContributorId = "g",
                ContributionId = "g-1",
                IsGeneralised = false,
                Use = "accepted",
                Ecosystem = $"e{e}",
                LandUse = LandUses[random.NextIndex(3)],
                Management = Managements[random.NextIndex(2)],
            });
            (double siteK, double siteS) = Pair(0.3);
            int first = random.NextIndex(Campaigns);
            for (int d = 0; d < 1 + random.NextIndex(2); d++)
            {
                int c = (first + d) % Campaigns;
                AddCell(key, c, null, -4.5 + ecosystems[e].K + siteK + campaigns[c].K, 0.25 + ecosystems[e].S + siteS + campaigns[c].S);
                if (s % 5 == 0)
                {
                    AddCell(key, c, "warmed", -4.5 + 0.25 * spread + ecosystems[e].K + siteK + campaigns[c].K,
                        0.25 + ecosystems[e].S + siteS + campaigns[c].S);
                }
            }
        }

        KnownErrors told = new(BagTold * BagTold, -0.1 * BagTold * BagTold, 0.04 * BagTold * BagTold, []);
        _plots = [.. ReleasedPlot.Of(burials, _ => told)];

        void AddCell(string site, int campaign, string? treatment, double k, double s)
        {
            (double cellK, double cellS) = Pair(0.12);
            (k, s) = (k + cellK, s + cellS);
            Truth[(site, $"c{campaign}", treatment)] = (k, s);
            int lot = random.NextIndex(3), count = random.NextIndex(3) == 0 ? 2 : 3 + random.NextIndex(10);
            double onK = LotSd * (0.7 + 0.6 * random.NextUniform()), onS = -0.3 * onK;
            _shared.Add(new ReleasedSharedError
            {
                SiteKey = site,
                Campaign = $"c{campaign}",
                Treatment = treatment,
                Evidence = "weighed",
                ErrorSet = $"lot {lot}",
                SharedBy = "lot",
                SharedId = $"{lot}",
                Quantity = "hydrolysable",
                OnLnRate = LotTold * onK,
                OnStabilisation = LotTold * onS,
            });
            for (int b = 0; b < count; b++)
            {
                (double burialK, double burialS) = Pair(BurialSd);
                (double bag, double other) = random.NextNormalPair();
                burials.Add(new PlotBurial(
                    site, $"c{campaign}", treatment, null, $"{burials.Count}", $"lot {lot}", k + burialK + BagSd * bag + onK * lots[lot], null,
                    s + burialS + BagSd * (-0.1 * bag + 0.17 * other) + onS * lots[lot]));
            }
        }

        (double, double) Pair(double sd)
        {
            double chi = Enumerable.Range(0, 3).Select(_ => random.NextNormalPair()).Sum(p => p.Item1 * p.Item1 + p.Item2 * p.Item2);
            // variance of t with 6 degrees of freedom: 6 / 4
            double scale = sd / Math.Sqrt(1.5) / Math.Sqrt(chi / 6);
            (double a, double b) = random.NextNormalPair();
            return (scale * a, 0.2 * scale * (-0.4 * a + Math.Sqrt(1 - 0.16) * b));
        }
    }

    /// <summary>ln k and S of each site in each campaign and treatment.</summary>
    public Dictionary<(string?, string?, string?), (double LnRate, double Stabilisation)> Truth { get; } = new();

    public IReadOnlyList<TRow> Rows<TRow>(Table<TRow> table)
        where TRow : class => table.Name switch
        {
            "sites" => Of<TRow, ReleasedSite>(_sites),
            "plots" => Of<TRow, ReleasedPlot>(_plots),
            "shared_errors" => Of<TRow, ReleasedSharedError>(_shared),
            _ => [],
        };

    private static IReadOnlyList<TRow> Of<TRow, TOwn>(IEnumerable<TOwn> rows) => [.. rows.Cast<TRow>()];
}
