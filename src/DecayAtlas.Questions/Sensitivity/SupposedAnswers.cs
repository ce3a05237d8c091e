namespace DecayAtlas.Questions.Sensitivity;

/// <summary>The covariates of a model, as plots have them.</summary>
/// <param name="ValuesOf">In the order of the names; missing where one is missing or withheld.</param>
/// <param name="Absent">Why there are none.</param>
internal sealed record CovariatesOfPlots(IReadOnlyList<string> Names, Func<ReleasedPlot, double[]?> ValuesOf, Unanswered? Absent)
{
    public static CovariatesOfPlots Of(IReleasedRows release, ReleasedRates rates, IReadOnlyList<string> names)
    {
        string[] lacking = [.. names.Except(new ReleasedCovariates(release).Names, StringComparer.Ordinal)];
        return names.Count == 0 ? None("The configuration names no covariates of a model.")
            : lacking.Length > 0 ? None($"The release has no covariate {string.Join(", ", lacking)}.")
            : new CovariatesOfPlots(names, rates.Covariates(names), null);

        static CovariatesOfPlots None(string why) => new([], _ => null, new Unanswered(why));
    }
}

/// <summary>The answers that rates give: groups, and a straight line in each covariate over sites.</summary>
/// <param name="Groups">By grouping.</param>
/// <param name="Places">The covariates of the sites that the lines were fitted to.</param>
internal sealed record SupposedAnswers(
    ReleasedRates Rates, IReadOnlyDictionary<string, GroupAnswer> Groups, Answer<CovariateLines> Lines, IReadOnlyList<double[]> Places)
{
    /// <param name="near">Rates that are nearly the same, whose models spare a search.</param>
    public static SupposedAnswers Of(ReleasedRates near, ReleasedRates released, SupposedRates supposed, CovariatesOfPlots covariates)
    {
        ReleasedRates rates = near.With(supposed.Plots(released));
        (double[] Covariates, double LnRate)[] sites = [.. SitesOf(rates, covariates)];
        return new SupposedAnswers(
            rates,
            GroupQuestion.Groupings.ToDictionary(by => by, by => GroupQuestion.Ask(rates, by, []), StringComparer.Ordinal),
            covariates.Absent is { } absent ? absent
                : CovariateLines.Fit(covariates.Names, [.. sites.Select(s => s.Covariates)], [.. sites.Select(s => s.LnRate)]),
            [.. sites.Select(s => s.Covariates)]);
    }

    /// <summary>One point a site in the order of the plots, which are averaged by their burials; sites that lack a covariate are left
    /// out.</summary>
    private static IEnumerable<(double[] Covariates, double LnRate)> SitesOf(ReleasedRates rates, CovariatesOfPlots covariates) =>
        from plot in rates.Plots
        where plot.IsUntreated
        let values = covariates.ValuesOf(plot)
        where values is not null
        group (Values: values, LnRate: plot.LnRateMean!.Value, Weight: (double)plot.LnRateBurials) by plot.SiteKey into site
        let weight = site.Sum(p => p.Weight)
        select (
            (double[])[.. covariates.Names.Select((_, c) => site.Sum(p => p.Weight * p.Values[c]) / weight)],
            site.Sum(p => p.Weight * p.LnRate) / weight);
}
