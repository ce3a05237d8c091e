using MathNet.Numerics.Statistics;

namespace DecayAtlas.Questions.Slopes;

/// <summary>What k or S is held against.</summary>
/// <param name="To">A covariate of the release, or a quantity of its samples.</param>
/// <param name="With">Covariates to adjust for.</param>
/// <param name="Gene">Target gene of the samples to take, where they have several.</param>
public sealed record RelateRequest(string To, IReadOnlyList<string> With, string? Gene = null);

/// <summary>Asks how k or S of untreated plots goes with a quantity, as a straight line, by the joint model.</summary>
public static class RelateQuestion
{
    // with two sites any line is exact (common practice, no source)
    private const int FewestSites = 3;

    /// <exception cref="ConfigurationException">The release has no covariate or quantity of a name, it is a class, or its samples are not
    /// of one gene.</exception>
    public static RelateAnswer Ask(ReleasedRates rates, RelateRequest request, AskedOf of = AskedOf.Rate)
    {
        Func<ReleasedPlot, double[]?> covariates = rates.Covariates(request.With);
        (Func<ReleasedPlot, double?> quantity, bool isOfSamples) = QuantityOf(rates, request);
        ReleasedPlot[] untreated = [.. rates.Rows.Where(p => p.IsUntreated)];
        ReleasedPlot[] rows = [.. untreated.Where(p => covariates(p) is not null && quantity(p) is not null)];
        ReleasedPlot[] known = [.. rows.Where(p => JointModel.Has(p, of))];
        int sites = ReleasedRates.SitesOf(known);
        // of all rows, so that k and S have the same columns and come from one fit
        double[] means = [.. rows.GroupBy(p => p.SiteKey, StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal).Select(Mean)];
        double? sd = means.Length < 2 ? null : means.StandardDeviation();
        string? statement = sites < FewestSites
            ? $"{Counted.Of(sites, "site")} {(sites == 1 ? "has" : "have")} both {of.Symbol()} and {request.To}; "
                + $"at least {FewestSites} are needed."
            : sd > 1e-9 * means.Max(Math.Abs) ? null : $"{request.To} is the same at all {sites} sites: there is nothing to relate.";
        SlopeModel? model = null;
        RelatedSlope? slope = null;
        if (statement is null)
        {
            double centre = Mean(rows), scale = sd!.Value;
            Answer<SlopeModel> fit = SlopeModel.Fit(
                rates, $"relate {request.To} {request.Gene} with {string.Join(", ", request.With)}", rows,
                [r => (quantity(r)!.Value - centre) / scale], r => covariates(r)!, CampaignEffects.Of(rows), SiteBlocks.UsualDegrees, of);
            model = fit.Value;
            slope = model is null ? null : SlopeOf(model, scale);
            statement = fit.Statement?.Sentence ?? (slope is null ? "There are too few sites for an interval." : null);
        }

        RelateAnswer answer = new(
            request.To, of.Code(), known.Sum(p => JointModel.BurialsOf(p, of)), sites,
            ReleasedRates.SitesOf(untreated.Where(p => JointModel.Has(p, of))) - sites, sd, slope, statement, [])
        {
            With = request.With,
            IsOfSamples = isOfSamples,
            Levels = model?.Levels ?? [],
        };
        return answer with
        {
            Sentences = [.. RelateSentences.Of(answer, of), .. rates.LeftOut(of).Select(w => $"Left out: {w}.")],
        };

        double Mean(IEnumerable<ReleasedPlot> plots) => plots.Sum(p => p.Burials * quantity(p)!.Value) / plots.Sum(p => p.Burials);

        RelatedSlope? SlopeOf(SlopeModel fit, double scale)
        {
            // few sites can look as if they did not scatter at all: burials then do not stand for them
            int units = known.Select(p => (p.SiteKey, quantity(p))).Distinct().Count();
            FixedEffect e = fit.Effect((1, 1)).WithAtMost(units - 2 - request.With.Count);
            if (e is not { Lower95: { } lower, Upper95: { } upper, PValue: { } p })
                return null;
            return new RelatedSlope(
                new IntervalEstimate(e.Value / scale, lower / scale, upper / scale), WarmthQuestion.Interval(e, of), p, e.DegreesOfFreedom);
        }
    }

    private static (Func<ReleasedPlot, double?> Quantity, bool IsOfSamples) QuantityOf(ReleasedRates rates, RelateRequest request)
    {
        IReadOnlyList<string> names = rates.KnownCovariates.Names;
        if (names.Contains(request.To))
        {
            if (request.Gene is not null)
                throw new ConfigurationException($"--gene is for quantities of samples, and {request.To} is a covariate; leave it out.");
            Func<ReleasedPlot, double[]?> covariate = rates.Covariates([request.To]);
            return (p => covariate(p)?[0], false);
        }

        if (!SampleQuantities.Names.Contains(request.To))
        {
            throw new ConfigurationException($"--to is {request.To}, expected a covariate of the release ("
                + $"{(names.Count == 0 ? "it has none" : string.Join(", ", names))}) or a quantity of its samples ("
                + $"{string.Join(", ", SampleQuantities.Names)}).");
        }

        return (SampleQuantities.Means(rates.Samples, request.To, request.Gene), true);
    }
}
