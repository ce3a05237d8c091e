namespace DecayAtlas.Questions.Tests.Sensitivity;

/// <summary>Rows of a release in memory: burials of 90 days with H 0.78 and 0.51, made from a true k and S by first-order loss.</summary>
internal sealed class SmallRelease : IReleasedRows
{
    public const double FastH = 0.78, SlowH = 0.51;

    private readonly Dictionary<string, List<object>> _rows = new(StringComparer.Ordinal);
    private readonly List<PlotBurial> _plots = [];

    public SmallRelease()
    {
        foreach ((string id, string role, double h, double sd) in new[] { ("F", "fast", FastH, 0.02), ("S", "slow", SlowH, 0.04) })
        {
            Add(AtlasTables.Lots, new ReleasedLot
            {
                ContributionId = "c",
                LotId = id,
                Role = role,
                HydrolysableFraction = h,
                HydrolysableFractionSd = sd,
            });
        }
    }

    /// <summary>Whether the accepted burials stand in the table of plots, each in a row of its own site.</summary>
    public bool HasPlots { get; init; }

    public static SensitivityBasis Basis { get; } = new(MeasurementAssumptions.Default, 60, 120, 8, []);

    /// <param name="water">Share of water that the first mass holds and nobody tells; missing where litter was oven-dried.</param>
    /// <param name="use">Missing for an accepted burial, else the code that sets it aside.</param>
    /// <param name="reached">Share of its plateau that the fast litter had reached.</param>
    public ReleasedWeighing Bury(
        string site, int number, double k = 0.01, double s = 0.25, int days = 90, double? water = null, string? use = null,
        double reached = 1)
    {
        string id = $"{site}-{number}";
        ReleasedBag fast = Bag("F", "fast", FastH * (1 - s) * reached),
            slow = Bag("S", "slow", SlowH * (1 - s) * (1 - Math.Exp(-k * days)));
        ReleasedBurial burial = new()
        {
            ContributionId = "c",
            BurialId = id,
            SiteKey = site,
            Campaign = "2024",
            BuriedOn = fast.BuriedOn,
            RetrievedOn = fast.RetrievedOn,
            ExposureDays = days,
            IsAshFree = false,
            Use = use is null ? "accepted" : "suspect",
            UseBecause = use,
        };
        ReleasedWeighing weighing = new(burial,
        [
            (ReleasedWeighing.RowOf(fast), ReleasedWeighing.RowOf(Rows(AtlasTables.Lots)[0])),
            (ReleasedWeighing.RowOf(slow), ReleasedWeighing.RowOf(Rows(AtlasTables.Lots)[1])),
        ]);
        (double? rate, double? stabilisation) = weighing.Under(new Supposition("released", ""), Basis.Assumptions);
        Add(AtlasTables.Burials, burial with { RatePerDay = rate });
        if (HasPlots && use is null)
            _plots.Add(new PlotBurial(site, "2024", null, null, id, "", Math.Log(rate!.Value), null, stabilisation, days));
        return weighing;

        ReleasedBag Bag(string lot, string role, double loss)
        {
            ReleasedBag bag = new()
            {
                ContributionId = "c",
                BagId = id + lot,
                BurialId = id,
                SiteKey = site,
                Campaign = "2024",
                LotId = lot,
                Role = role,
                MassInitialGrams = 2,
                MassFinalGrams = 2 * (1 - (water ?? 0)) * (1 - loss),
                MassBasis = "litter",
                DryingInitial = water is null ? "oven" : null,
                Drying = "oven",
                BuriedOn = new(2024, 4, 1),
                RetrievedOn = new DateOnly(2024, 4, 1).AddDays(days),
                Use = use is null ? "accepted" : "suspect",
            };
            Add(AtlasTables.Bags, bag);
            return bag;
        }
    }

    public void Warmth(string site, double celsius) => Add(AtlasTables.Covariates, new ReleasedCovariate
    {
        SiteKey = site,
        Covariate = "temperature",
        Value = celsius,
        Unit = "degC",
    });

    public void Site(string key, string ecosystem) => Add(AtlasTables.Sites, new ReleasedSite
    {
        SiteKey = key,
        ContributorId = "g",
        ContributionId = "c",
        IsGeneralised = false,
        Ecosystem = ecosystem,
        Use = "accepted",
    });

    public IReadOnlyList<TRow> Rows<TRow>(Table<TRow> table)
        where TRow : class => [.. table.Name == AtlasTables.Plots.Name ? ReleasedPlot.Of(_plots, _ => null).Cast<TRow>()
            : _rows.GetValueOrDefault(table.Name, []).Cast<TRow>()];

    private void Add<TRow>(Table<TRow> table, TRow row)
        where TRow : class
    {
        if (!_rows.TryGetValue(table.Name, out List<object>? rows))
            _rows[table.Name] = rows = [];
        rows.Add(row);
    }
}
