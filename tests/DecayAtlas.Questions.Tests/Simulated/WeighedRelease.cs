namespace DecayAtlas.Questions.Tests.Simulated;

/// <summary>
/// A release that begins with grams: true k and S of each burial give what is left of two litters, by the equations of Keuskamp et al. 2013
/// written out here; bags are weighed with tare, water and a balance that are not the told ones, litter is of lots whose chemistry is not
/// that of their sheets. All of these errors are drawn anew for each release and act through the equations at each burial's own k. Rows
/// are then made as a night makes them. Contributors of 3 to 8 sites, 2 to 4 campaigns (or from
/// <see cref="WeighedDesign.FewestCampaigns"/>, three numbers), of which a site is in one to three, 1 to 8 burials, one or two plots.
/// </summary>
internal sealed class WeighedRelease : IReleasedRows
{
    private const int Lots = 3;
    private const double Resolution = 0.01, TareSd = 0.015, FastSheetSd = 0.012, SlowSheetSd = 0.02, WaterSd = 0.006, DriedSd = 0.005;
    private static readonly string[] LandUses = ["crop", "forest", "grass"], Managements = ["conventional", "organic"];
    private static readonly double[] EcosystemShares = [0.4, 0.25, 0.15, 0.12, 0.08];
    private static readonly MeasurementAssumptions Assumed = MeasurementAssumptions.Default;
    private readonly WeighedDesign _true;
    private readonly Random _random;
    private readonly List<ReleasedSite> _sites = new();
    private readonly List<ReleasedCovariate> _covariates = new();
    private readonly List<ReleasedSiteCampaign> _campaigns = new();
    private readonly List<ReleasedSharedError> _shared = new();
    private readonly List<ReleasedPlot> _plots = new();
    private readonly (LitterLot Told, double H, double Tare)[] _fastLots, _slowLots;

    /// <summary>A batch as it is: water that is there and water that is told, of both litters at both weighings, and what the balance reads
    /// too much.</summary>
    private sealed record Batch(
        (double True, Water Told) FastInitial, (double True, Water Told) FastFinal, (double True, Water Told) SlowInitial,
        (double True, Water Told) SlowFinal, double OffsetGrams);

    private sealed record Bags(
        string Plot, string Id, SharedKeys Keys, RemainingFraction Fast, RemainingFraction? Slow, Exposure Exposure);

    public WeighedRelease(WeighedDesign design, int seed)
    {
        _true = design;
        _random = new Random(seed);
        _fastLots = [.. Enumerable.Range(0, Lots).Select(_ => Lot(0.80 + 0.06 * _random.NextDouble(), FastSheetSd))];
        _slowLots = [.. Enumerable.Range(0, Lots).Select(_ => Lot(0.50 + 0.10 * _random.NextDouble(), SlowSheetSd))];
        CampaignCount = design.FewestCampaigns + seed % 3;
        Ecosystems = [.. EcosystemShares.Select(_ => Pair(design.Ecosystem))];
        (double K, double S)[] seasons = [.. Enumerable.Range(0, CampaignCount).Select(_ => Pair(design.Season))];
        for (int contributor = 0; contributor < design.Contributors; contributor++)
        {
            double climate = 13 + 4 * Normal();
            (int initial, int final) = (Choice(0.45, 0.4, 0.15), Choice(0.4, 0.6));
            Batch[] batches = [.. seasons.Select(_ => new Batch(Held(initial), Held(final), Held(initial), Held(final), design.Batches
                * Assumed.BalanceOffsetSdGrams * Normal()))];
            (double K, double S)[] blocks = [.. Enumerable.Range(0, 3).Select(_ => Pair(design.Block))];
            int sites = 3 + _random.Next(6);
            for (int s = 0; s < sites; s++)
                AddSite(contributor, s, climate + 2 * Normal(), blocks, seasons, batches);
        }
    }

    public int CampaignCount { get; }

    /// <summary>What each ecosystem adds to ln k and S.</summary>
    public (double LnRate, double Stabilisation)[] Ecosystems { get; }

    /// <summary>ln k and S of each site in each campaign and treatment.</summary>
    public Dictionary<(string Site, string Campaign, string? Treatment), (double LnRate, double Stabilisation)> Truth { get; } = new();

    public IReadOnlyList<TRow> Rows<TRow>(Table<TRow> table)
        where TRow : class => table.Name switch
        {
            "sites" => [.. _sites.Cast<TRow>()],
            "covariates" => [.. _covariates.Cast<TRow>()],
            "site_campaigns" => [.. _campaigns.Cast<TRow>()],
            "plots" => [.. _plots.Cast<TRow>()],
            "shared_errors" => [.. _shared.Cast<TRow>()],
            _ => [],
        };

    private void AddSite(
        int contributor, int number, double celsius, (double K, double S)[] blocks, (double K, double S)[] seasons, Batch[] batches)
    {
        string key = $"g{contributor}/s{number}";
        (int ecosystem, int block) = (Choice(EcosystemShares), _random.Next(blocks.Length));
        double moisture = 0.25 - 0.004 * (celsius - 13) + 0.05 * Normal(), acidity = 6 - 3 * (moisture - 0.25) + 0.6 * Normal();
        _sites.Add(new ReleasedSite
        {
            SiteKey = key,
            ContributorId = $"g{contributor}",
            ContributionId = $"g{contributor}-1",
            LatitudeDegrees = 10 * contributor - 40 + block + 0.2 + 0.6 * _random.NextDouble(),
            LongitudeDegrees = 5.2 + 0.6 * _random.NextDouble(),
            IsGeneralised = false,
            Use = "accepted",
            Ecosystem = $"e{ecosystem}",
            // names that mean nothing
            LandUse = LandUses[(contributor + number) % LandUses.Length],
            Management = Managements[number / 2 % Managements.Length],
        });
        _covariates.AddRange(new[] { ("temperature", celsius), ("moisture", moisture), ("acidity", acidity) }
            .Select(c => new ReleasedCovariate { SiteKey = key, Covariate = c.Item1, Value = c.Item2 }));
        (double K, double S) own = Pair(_true.Site), warming = Pair(_true.Warming.Sd);
        double warmth = 1 / 59.02 - 1 / (celsius + 46.02);
        double lnRate = Math.Log(0.009) + Ecosystems[ecosystem].LnRate + blocks[block].K + own.K + _true.E0 * warmth
            + _true.PerMoisture.LnRate * (moisture - 0.25) + _true.PerAcidity.LnRate * (acidity - 6);
        double stable = 0.27 + Ecosystems[ecosystem].Stabilisation + blocks[block].S + own.S
            + _true.StabilisationPerTenKelvin * (celsius - 13) / 10 + _true.PerMoisture.Stabilisation * (moisture - 0.25)
            + _true.PerAcidity.Stabilisation * (acidity - 6);
        bool isExperiment = _true.Warming != default && _random.Next(3) == 0;
        int first = _random.Next(seasons.Length), last = Math.Min(seasons.Length - 1, first + _random.Next(3));
        for (int c = first; c <= last; c++)
        {
            (double K, double S) here = Pair(_true.SeasonAtSite);
            DateOnly buried = new DateOnly(2018 + c, 4, 1).AddDays(_random.Next(100));
            double years = (buried.DayNumber - new DateOnly(2018, 4, 1).DayNumber) / 365.25;
            (double K, double S) mean = (lnRate + seasons[c].K + here.K + _true.PerYear.LnRate * years,
                stable + seasons[c].S + here.S + _true.PerYear.Stabilisation * years);
            AddSeries(key, contributor, c, null, mean, buried, batches[c]);
            if (isExperiment)
            {
                AddSeries(key, contributor, c, "warmed", (mean.K + _true.Warming.LnRate + warming.K,
                    mean.S + _true.Warming.Stabilisation + warming.S), buried, batches[c]);
            }
        }
    }

    private void AddSeries(
        string site, int contributor, int season, string? treatment, (double K, double S) mean, DateOnly buried, Batch batch)
    {
        string campaign = $"c{season}", batchKey = $"g{contributor}/{campaign}";
        Truth[(site, campaign, treatment)] = mean;
        int burials = 1 + Math.Min(7, (int)(-2.2 * Math.Log(1 - _random.NextDouble()))), days = 75 + _random.Next(36);
        int plots = burials >= 4 && _random.Next(2) == 0 ? 2 : 1;
        bool isMixed = _random.Next(6) == 0;
        (double K, double S)[] grounds = [.. Enumerable.Range(0, plots).Select(_ => Pair(_true.Plot))];
        List<Bags> all = new();
        for (int b = 0; b < burials; b++)
        {
            (double K, double S) own = Pair(_true.Burial), ground = grounds[b % plots];
            int fast = (season + contributor) % Lots, slow = (season + contributor / 2 + (isMixed ? b : 0)) % Lots;
            double k = Math.Exp(mean.K + ground.K + own.K), s = mean.S + ground.S + own.S;
            double exposed = days + _random.NextDouble() - _random.NextDouble();
            double fastLoss = _fastLots[fast].H * (1 - s), slowLoss = _slowLots[slow].H * (1 - s) * (1 - Math.Exp(-k * exposed));
            RemainingFraction? ofSlow = Weighed(slowLoss, _slowLots[slow], batch.SlowInitial, batch.SlowFinal, batch.OffsetGrams);
            all.Add(new Bags(
                $"p{b % plots}", $"{site}/{campaign}/{treatment}/{b}", new($"f{fast}", $"s{slow}", batchKey, batchKey),
                Weighed(fastLoss, _fastLots[fast], batch.FastInitial, batch.FastFinal, batch.OffsetGrams),
                _random.Next(25) == 0 ? null : ofSlow, new Exposure(days, 0.5 * Math.Sqrt(2.0 / 3))));
        }

        AddRows(site, campaign, treatment, plots > 1, all);
        _campaigns.Add(new ReleasedSiteCampaign
        {
            SiteKey = site,
            Campaign = campaign,
            Treatment = treatment,
            Burials = burials,
            FirstBuriedOn = buried,
            LastRetrievedOn = buried.AddDays(days),
            RateBurials = burials,
            RateNotPositiveBurials = 0,
            RateAtLeastBurials = 0,
            LnRateBurials = burials,
            StabilisationBurials = burials,
        });
    }

    // as the night does, from the product's own equations on
    private void AddRows(string site, string campaign, string? treatment, bool hasPlots, List<Bags> all)
    {
        (Bags Bags, Estimate S, Estimate? K)[] computed = [.. all.Select(b => (b, TwoLitterIndex.StabilisationFactor(b.Fast).Value!,
            b.Slow is null ? null : TwoLitterIndex.RatePerDay(b.Fast, b.Slow, b.Exposure).Value))];
        double[] lnRates = [.. computed.Where(b => b.K?.Value > 0).Select(b => Math.Log(b.K!.Value))];
        double? mean = lnRates.Length == 0 ? null : Math.Exp(lnRates.Average());
        Dictionary<string, KnownErrors> errors = computed.GroupBy(b => b.Bags.Keys.ErrorSet).ToDictionary(g => g.Key, g => KnownErrors.Of(
            [.. g.Select(b => new KnownBurial(b.S, b.Bags.Keys, b.K?.Value > 0
                ? new RatedBurial(b.Bags.Fast, b.Bags.Slow!, b.Bags.Exposure, b.K.Value, b.Bags.Keys) : null))], mean));
        _plots.AddRange(ReleasedPlot.Of(
            computed.Select(b => new PlotBurial(
                site, campaign, treatment, hasPlots ? b.Bags.Plot : null, b.Bags.Id, b.Bags.Keys.ErrorSet,
                b.K?.Value > 0 ? Math.Log(b.K.Value) : null,
                b.K is null && b.Bags.Slow is not null && RateInterval.Of(b.Bags.Fast, b.Bags.Slow, b.Bags.Exposure)?.AtLeastPerDay is > 0
                    and { } least ? Math.Log(least) : null, b.S.Value)),
            b => errors[b.ErrorSet]));
        _shared.AddRange(errors.SelectMany(e => e.Value.Shared.Select(q => new ReleasedSharedError
        {
            SiteKey = site,
            Campaign = campaign,
            Treatment = treatment,
            Evidence = "weighed",
            ErrorSet = e.Key,
            SharedBy = AtlasCode.Of(q.Quantity.Source),
            SharedId = q.Quantity.Key,
            Quantity = AtlasCode.Of(q.Quantity.Name),
            OnLnRate = q.OnLnRate,
            OnStabilisation = q.OnStabilisation,
        })));
    }

    private RemainingFraction Weighed(
        double loss, (LitterLot Told, double H, double Tare) lot, (double True, Water Told) initial, (double True, Water Told) final,
        double offset)
    {
        double dry = 1.8 + 0.4 * _random.NextDouble(), tare = lot.Tare + TareSd * Normal();
        return RemainingFraction.Of(
            new BagWeighing(Read(dry / (1 - initial.True)), Read(dry * (1 - loss) / (1 - final.True)), MassBasis.Gross, null, Resolution,
                initial.Told, final.Told),
            lot.Told, FractionBasis.Dry, Assumed).Value!;

        double Read(double litter) => Math.Round((litter + tare + offset) / Resolution) * Resolution;
    }

    private (LitterLot, double, double) Lot(double h, double sd) => (
        new LitterLot(h + _true.Lots * sd * Normal(), sd, TareGrams: 0.3, TareSdGrams: TareSd), h,
        0.3 + _true.Lots * Assumed.TareMeanSdGrams * Normal());

    /// <summary>Water of litter that is weighed: measured, dried, or unspoken.</summary>
    private (double, Water) Held(int practice)
    {
        double held = practice == 1 ? DriedSd * _true.Batches * Normal() : 0.05 + 0.1 * _true.Batches * (_random.NextDouble() - 0.5);
        return (held, practice switch
        {
            0 => Water.Measured(held + _true.Batches * WaterSd * Normal(), WaterSd),
            1 => Water.Dried(DriedSd),
            _ => Water.UpTo(0.1),
        });
    }

    private (double, double) Pair(double sd)
    {
        (double a, double b) = (Normal(), Normal());
        return (sd * a, 0.2 * sd * (-0.4 * a + Math.Sqrt(1 - 0.16) * b));
    }

    private int Choice(params double[] shares)
    {
        double u = _random.NextDouble() * shares.Sum();
        int i = 0;
        while (i < shares.Length - 1 && u >= shares[i])
            u -= shares[i++];
        return i;
    }

    private double Normal() => Math.Sqrt(-2 * Math.Log(1 - _random.NextDouble())) * Math.Cos(2 * Math.PI * _random.NextDouble());
}
