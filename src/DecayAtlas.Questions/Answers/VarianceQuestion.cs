namespace DecayAtlas.Questions.Answers;

/// <summary>How much of the variance of ln k lies at one level.</summary>
/// <param name="Level">ecosystem, site, campaign, plot or burial.</param>
/// <param name="Variance">Of ln k, within the level above.</param>
/// <param name="ShareLower95">95 % interval; missing for the last level.</param>
public sealed record VarianceShare(string Level, int Units, double Variance, double Share, double? ShareLower95, double? ShareUpper95);

/// <summary>Where the scatter of k lies: numbers, or a statement why there are none.</summary>
/// <param name="SiteCorrelation">Intraclass correlation of the burials of one site, in a model of sites alone.</param>
/// <param name="SiteCorrelationLower95">Its 95 % interval.</param>
public sealed record VarianceAnswer(
    int Burials, string? Statement, IReadOnlyList<VarianceShare> Shares,
    double? SiteCorrelation, double? SiteCorrelationLower95, double? SiteCorrelationUpper95)
{
    /// <summary>Shares in a model of sites and burials alone; empty where there are none.</summary>
    public IReadOnlyList<VarianceShare> SitesAlone { get; init; } = [];

    /// <summary>What the shares and their intervals do not hold.</summary>
    public string NotInIntervals { get; init; } = "";

    /// <summary>By burials a site: share of the variance of a site's mean that is the site's own.</summary>
    public IReadOnlyDictionary<int, double>? Repeatability { get; init; }
}

/// <summary>Asks how the variance of ln k in untreated plots splits over ecosystems, sites, campaigns, plots and burials.</summary>
public static class VarianceQuestion
{
    private const string Burial = "burial";

    /// <summary>Burials a site for which repeatability is told: each has a column in the table of variance.</summary>
    private static readonly int[] Planned = [2, 3, 5, 10, 20];

    /// <summary>Splits the variance; a level that never splits the one above, as plots where each site has one, is left out.</summary>
    public static VarianceAnswer Ask(ReleasedRates rates)
    {
        string? EcosystemOf(ReleasedPlot plot) => rates.SiteOf(plot).Ecosystem;
        ReleasedPlot[] plots = [.. rates.Plots.Where(p => p.IsUntreated && EcosystemOf(p) is not null)];
        (string Name, Func<ReleasedPlot, string> Of)[] levels = Splitting(
            plots, [("ecosystem", p => EcosystemOf(p)!), ("site", p => p.SiteKey), ("campaign", p => p.Campaign),
                ("plot", p => p.Plot ?? "")]);
        Answer<VarianceSplit> nested = VarianceComponents.Of(
            [.. plots.Select(p => new NestedValue(p.LnRateMean, [.. levels.Select(l => l.Of(p))], p.LnRateBurials, p.LnRateSumOfSquares))],
            [.. levels.Select(l => l.Name)]);
        VarianceSplit? alone = VarianceComponents.Of(
            [.. plots.Select(p => new NestedValue(p.LnRateMean, [p.SiteKey], p.LnRateBurials, p.LnRateSumOfSquares))], ["site"]).Value;
        VarianceComponent? alike = alone?.Components[0];
        return new VarianceAnswer(
            plots.Sum(p => p.LnRateBurials), nested.Statement?.Sentence, SharesOf(nested.Value),
            alike?.Share, alike?.ShareLower95, alike?.ShareUpper95)
        {
            NotInIntervals = rates.NotInIntervals(plots),
            SitesAlone = SharesOf(alone),
            Repeatability = alone is null ? null : Planned.ToDictionary(n => n, n => alone.Repeatability("site", n)),
        };
    }

    private static VarianceShare[] SharesOf(VarianceSplit? split) =>
    [
        .. (split?.Components ?? []).Select((c, j) => new VarianceShare(
            j < split!.Components.Count - 1 ? c.Level : Burial, c.Groups, c.Variance, c.Share, c.ShareLower95, c.ShareUpper95)),
    ];

    // the first two levels stay, so that it is said where they are not replicated
    private static (string Name, Func<ReleasedPlot, string> Of)[] Splitting(
        ReleasedPlot[] plots, (string Name, Func<ReleasedPlot, string> Of)[] levels)
    {
        List<(string Name, Func<ReleasedPlot, string> Of)> kept = new();
        int above = 0, burials = plots.Sum(p => p.LnRateBurials);
        foreach ((string name, Func<ReleasedPlot, string> of) in levels)
        {
            int units = plots.Select(p => string.Join('\u001f', kept.Select(k => k.Of(p)).Append(of(p)))).Distinct().Count();
            if (kept.Count < 2 || (units > above && units < burials))
            {
                kept.Add((name, of));
                above = units;
            }
        }

        return [.. kept];
    }
}
