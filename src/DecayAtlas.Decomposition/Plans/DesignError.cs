using MathNet.Numerics;
using MathNet.Numerics.Distributions;

namespace DecayAtlas.Decomposition.Plans;

/// <summary>
/// What is to be expected of the standard error of a planned comparison, as far as a formula goes. With no losses it is exact, the t test
/// of the means of sites (of their differences, of campaigns):
/// <code>
/// between  se² = 2 v/g,             v = σ_site² + σ_campaign at site²/c + σ_plot²/p + σ_burial²/n            df = 2 (g - 1)
/// within   se² = v/g,               v = 2 (σ_treatment at site² + σ_plot²/p + σ_burial²/n)                   df = g - 1
/// again    se² = (c - 1)² v/Σ(j - j̄)², v = σ_campaign² + (σ_campaign at site² + σ_burial²/n)/g              df = c - 2
/// </code>
/// n burials of a site (of a treatment at it; in one campaign of again) in p plots and c campaigns. Without a season of its own
/// (σ_campaign² = 0) again has the degrees of freedom of all campaigns at all sites, less one a site and one. Errors of lots and batches
/// that the groups do not share come on top as known variance.
/// </summary>
/// <remarks>With losses, sites count by their expected precision 1/v. Source: Snedecor and Cochran 1980, Statistical Methods, 13.10 (from
/// memory); degrees of freedom of a sum with a known part, Satterthwaite 1946.</remarks>
internal sealed class DesignError
{
    private readonly PlannedDesign _design;
    private readonly double _known, _season, _precision, _kept;
    private readonly double[] _staying;

    public DesignError(PlannedDesign design, PlanVariances variances)
    {
        _design = design;
        // sites that are there in each campaign
        _staying = [.. Enumerable.Range(0, design.Campaigns).Select(c => Math.Pow(1 - design.Dropout, c))];
        bool isAgain = design.Comparison == PlannedComparison.Again;
        _known = design.KnownVariance(variances);
        _season = variances.Campaign.Variance;
        (_precision, _kept) = isAgain ? Precision(1, n => variances.CampaignAtSite.Variance + variances.Burial.Variance / n.Burials)
            : design.Comparison == PlannedComparison.Between
            ? Over(campaigns => Precision(campaigns, n => variances.Site.Variance + variances.CampaignAtSite.Variance / n.Campaigns
                + variances.Plot.Variance / n.Plots + variances.Burial.Variance / n.Burials))
            : Over(campaigns => PrecisionOfPairs(campaigns, n => variances.TreatmentAtSite.Variance
                + variances.Plot.Variance / n.Plots + variances.Burial.Variance / n.Burials));
    }

    /// <summary>The standard error, and its degrees of freedom, which may be 0 where the design leaves none.</summary>
    public (double StandardError, double DegreesOfFreedom) At(int sitesPerGroup)
    {
        double estimated, known = _known, df;
        switch (_design.Comparison)
        {
            case PlannedComparison.Between:
                estimated = 2 / (sitesPerGroup * _precision);
                df = 2 * (sitesPerGroup * _kept - 1);
                break;
            case PlannedComparison.Within:
                estimated = 1 / (sitesPerGroup * _precision);
                df = sitesPerGroup * _kept - 1;
                break;
            default:
                double[] scatter = [.. _staying.Select(s => _season + 1 / (sitesPerGroup * s * _precision))];
                estimated = ErrorOfTrend(scatter);
                known = ErrorOfTrend([.. scatter.Select(v => v + _known)]) - estimated;
                df = _season > 0 ? _design.Campaigns - 2
                    : sitesPerGroup * _kept * _staying.Sum() - sitesPerGroup * (1 - Math.Pow(1 - _kept, _design.Campaigns)) - 1;
                break;
        }

        double share = estimated / (estimated + known);
        return (Math.Sqrt(estimated + known), Math.Max(0, df) / (share * share));
    }

    // of the change over all campaigns, by weighted least squares
    private static double ErrorOfTrend(double[] variances)
    {
        double[] weights = [.. variances.Select(v => 1 / v)];
        double centre = weights.Select((w, c) => w * c).Sum() / weights.Sum();
        double squares = weights.Select((w, c) => w * (c - centre) * (c - centre)).Sum();
        return Math.Pow(variances.Length - 1, 2) / squares;
    }

    private (double Precision, double Kept) Over(Func<int, (double Precision, double Kept)> ofStay)
    {
        double precision = 0, kept = 0;
        for (int c = 1; c <= _design.Campaigns; c++)
        {
            double share = _staying[c - 1] - (c < _design.Campaigns ? _staying[c] : 0);
            if (share <= 0)
                continue;
            (double own, double there) = ofStay(c);
            (precision, kept) = (precision + share * own, kept + share * there);
        }

        return (precision, kept);
    }

    private (double Precision, double Kept) Precision(int campaigns, Func<Counts, double> varianceOf)
    {
        double precision = 0, kept = 0;
        foreach ((Counts counts, double chance) in Left(campaigns))
            (precision, kept) = (precision + chance / varianceOf(counts), kept + chance);
        return (precision, kept);
    }

    private (double Precision, double Kept) PrecisionOfPairs(int campaigns, Func<Counts, double> varianceOf)
    {
        (double Variance, double Chance)[] parts = [.. Left(campaigns).Select(x => (varianceOf(x.Counts), x.Chance))];
        double precision = parts.Sum(a => parts.Sum(b => a.Chance * b.Chance / (a.Variance + b.Variance)));
        return (precision, Math.Pow(parts.Sum(p => p.Chance), 2));
    }

    // what is left of a site (of a treatment at it), nothing left apart
    private IEnumerable<(Counts Counts, double Chance)> Left(int campaigns)
    {
        int all = campaigns * _design.Plots * _design.Burials;
        for (int n = _design.Loss > 0 ? 1 : all; n <= all; n++)
        {
            yield return (new Counts(n, Distinct(_design.Plots, all, n), Distinct(campaigns, all, n)),
                _design.Loss > 0 ? Binomial.PMF(1 - _design.Loss, all, n) : 1);
        }
    }

    // expected number of groups that n of all, drawn without replacement, come from
    private static double Distinct(int groups, int all, int n)
    {
        int others = all - all / groups;
        return groups * (1 - (n > others ? 0
            : Math.Exp(SpecialFunctions.BinomialLn(others, n) - SpecialFunctions.BinomialLn(all, n))));
    }

    private readonly record struct Counts(int Burials, double Plots, double Campaigns);
}
