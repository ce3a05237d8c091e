namespace DecayAtlas.Questions.Answers;

/// <summary>How much of the variance of ln k or S lies at one level.</summary>
/// <param name="Level">ecosystem, site, campaign, campaign at site, plot or burial.</param>
/// <param name="Variance">Of ln k or S between its units; what weighings, batches and lots are known to err by is no part of it.</param>
/// <param name="ShareLower95">95 % interval; missing where the search for it does not settle.</param>
public sealed record VarianceShare(string Level, int Units, double Variance, double Share, double? ShareLower95, double? ShareUpper95);

/// <summary>Where the scatter of k or S lies: numbers, or a statement why there are none.</summary>
/// <param name="SiteCorrelation">Intraclass correlation of the burials of one site, in a model of sites alone.</param>
/// <param name="SiteCorrelationLower95">Its 95 % interval.</param>
public sealed record VarianceAnswer(
    string Of, int Burials, string? Statement, IReadOnlyList<VarianceShare> Shares,
    double? SiteCorrelation, double? SiteCorrelationLower95, double? SiteCorrelationUpper95)
{
    /// <summary>Shares in a model of sites and burials alone; empty where there are none.</summary>
    public IReadOnlyList<VarianceShare> SitesAlone { get; init; } = [];

    /// <summary>By burials a site in one campaign: share of the variance of a site's mean that is the site's own and stays from campaign
    /// to campaign.</summary>
    public IReadOnlyDictionary<int, double>? Repeatability { get; init; }
}

/// <summary>Asks how the variance of ln k or S in untreated plots splits over ecosystems, sites, campaigns, plots and burials.</summary>
public static class VarianceQuestion
{
    /// <summary>Burials a site for which repeatability is told: each has a column in the table of variance.</summary>
    private static readonly int[] Planned = [2, 3, 5, 10, 20];

    /// <summary>Splits the variance as far as the data hold the levels (<see cref="JointModel"/>).</summary>
    /// <param name="withIntervals">Without them it takes a tenth of the time.</param>
    public static VarianceAnswer Ask(ReleasedRates rates, AskedOf of = AskedOf.Rate, bool withIntervals = true)
    {
        UnitLevel ecosystem = new("ecosystem", p => rates.SiteOf(p).Ecosystem!);
        ReleasedPlot[] plots = [.. rates.Rows.Where(p => p.IsUntreated && rates.SiteOf(p).Ecosystem is not null)];
        Answer<JointModel> nested = JointModel.Fit(
            rates, "variance", plots, [ecosystem, UnitLevel.Site, UnitLevel.Campaign, UnitLevel.CampaignAtSite, UnitLevel.Plot],
            _ => [1], of, 2);
        Answer<JointModel> alone = JointModel.Fit(rates, "variance", plots, [UnitLevel.Site], _ => [1], of, 1);
        VarianceShare[] shares = SharesOf(nested.Value, withIntervals), ofSites = SharesOf(alone.Value, withIntervals);
        VarianceShare? alike = ofSites.FirstOrDefault(s => s.Level == UnitLevel.Site.Name);
        return new VarianceAnswer(
            of.Code(), plots.Sum(p => JointModel.BurialsOf(p, of)), nested.Statement?.Sentence, shares,
            alike?.Share, alike?.ShareLower95, alike?.ShareUpper95)
        {
            SitesAlone = ofSites,
            Repeatability = RepeatabilityOf(shares.Length > 0 ? shares : ofSites),
        };
    }

    /// <summary>With and without the noted records; the intervals are those with them, which say whether a share moved.</summary>
    public static WithAndWithoutNoted<VarianceAnswer> AskBoth(ReleasedRates rates, AskedOf of) =>
        WithAndWithoutNoted.Ask<VarianceAnswer>(rates, r => Ask(r, of, ReferenceEquals(r, rates)), AnswerChanges.Of, of);

    private static VarianceShare[] SharesOf(JointModel? model, bool withIntervals) =>
    [
        .. (model?.Variances ?? []).Select(v =>
        {
            (double Lower, double Upper)? interval = withIntervals ? model!.ShareInterval(v.Level) : null;
            return new VarianceShare(v.Level, v.Units, v.Variance, v.Share, interval?.Lower, interval?.Upper);
        }),
    ];

    private static Dictionary<int, double>? RepeatabilityOf(VarianceShare[] shares)
    {
        double Of(params string[] levels) => shares.Where(s => levels.Contains(s.Level)).Sum(s => s.Variance);
        return shares.Length == 0 ? null : Planned.ToDictionary(n => n, n => DecayAtlas.Decomposition.Variance.Repeatability.OfSiteMean(
            Of("ecosystem", UnitLevel.Site.Name), Of(UnitLevel.CampaignAtSite.Name), Of(UnitLevel.Plot.Name), Of(UnitLevel.Burial), n));
    }
}
