namespace DecayAtlas.Questions.Sensitivity;

/// <summary>The covariates of a model, as plots have them.</summary>
/// <param name="ValuesOf">In the order of the names; missing where one is missing or withheld.</param>
/// <param name="Absent">Why there are none.</param>
internal sealed record CovariatesOfPlots(IReadOnlyList<string> Names, Func<ReleasedPlot, double[]?> ValuesOf, Unanswered? Absent)
{
    public static CovariatesOfPlots Of(ReleasedRates rates, IReadOnlyList<string> names)
    {
        return names.Count == 0 ? None("The configuration names no covariates of a model.")
            : rates.KnownCovariates.RefusalOf(names) is { } refusal ? None(refusal)
            : new CovariatesOfPlots(names, rates.Covariates(names), null);

        static CovariatesOfPlots None(string why) => new([], _ => null, new Unanswered(why));
    }
}

/// <summary>The response to warmth that a release tells of k or S, to be asked of other rates by the same form.</summary>
internal sealed record ToldWarmth(WarmthRequest Request, AskedOf Asked, FittedWarmth Response)
{
    /// <summary>Of k and of S, as far as the release tells it.</summary>
    public static IReadOnlyList<ToldWarmth> Of(ReleasedRates rates, WarmthRequest? request) =>
        request is null || WarmthQuestion.RefusalOf(rates, request) is not null ? []
        :
        [
            .. from of in Enum.GetValues<AskedOf>()
               let answer = WarmthQuestion.Ask(rates, request with { FastOverSlow = null }, of)
               where answer.Responses.Count > 0
               select new ToldWarmth(request, of, answer.Responses[0]),
        ];

    public FittedWarmth? In(ReleasedRates rates) => new WarmthFits(rates, Request, Asked).Again(Response);
}

/// <summary>The answers that rates give: groups, a straight line in each covariate over sites, and the response to warmth.</summary>
/// <param name="Groups">By grouping.</param>
/// <param name="Places">The covariates of the sites that the lines were fitted to.</param>
internal sealed record SupposedAnswers(
    ReleasedRates Rates, IReadOnlyDictionary<string, GroupAnswer> Groups, Answer<CovariateLines> Lines, IReadOnlyList<double[]> Places,
    IReadOnlyDictionary<AskedOf, FittedWarmth?> Warmth)
{
    /// <param name="near">Rates that are nearly the same, whose models spare a search.</param>
    public static SupposedAnswers Of(
        ReleasedRates near, ReleasedRates released, SupposedRates supposed, CovariatesOfPlots covariates, IReadOnlyList<ToldWarmth> warmth)
    {
        ReleasedRates rates = near.With(supposed.Plots(released));
        (double[] Covariates, double LnRate)[] sites = [.. SitesOf(rates, covariates)];
        return new SupposedAnswers(
            rates,
            GroupQuestion.Groupings.ToDictionary(by => by, by => GroupQuestion.Ask(rates, by, []), StringComparer.Ordinal),
            covariates.Absent is { } absent ? absent
                : CovariateLines.Fit(covariates.Names, [.. sites.Select(s => s.Covariates)], [.. sites.Select(s => s.LnRate)]),
            [.. sites.Select(s => s.Covariates)], warmth.ToDictionary(w => w.Asked, w => w.In(rates)));
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
