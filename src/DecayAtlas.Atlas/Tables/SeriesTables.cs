using DecayAtlas.Atlas.Records;
using static DecayAtlas.Atlas.Tables.Column;

namespace DecayAtlas.Atlas.Tables;

public static partial class AtlasTables
{
    public static Table<PlotRates> Plots { get; } = new(
        "plots",
        "One row a site, campaign, treatment and plot: ln k of its accepted burials with k above 0, summed up. Variance shares and comparisons are made from this table.",
        ["site_key", "campaign", "treatment", "plot"],
        [
            Text<PlotRates>("site_key", "The site.", x => x.SiteKey),
            Text<PlotRates>("campaign", "The campaign.", x => x.Campaign),
            Text<PlotRates>("treatment", "The treatment; missing for untreated plots.", x => x.Treatment),
            Text<PlotRates>("plot", "The plot; missing where the contributor names none.", x => x.Plot),
            WholeNumber<PlotRates>("ln_k_burials", null, "Accepted burials with k above 0.", x => x.LnRate.Count),
            Number<PlotRates>("ln_k_mean", "ln(d-1)", "Mean of ln k.", x => x.LnRate.Mean),
            Number<PlotRates>("ln_k_sd", "ln(d-1)", "Standard deviation of ln k between burials; missing for a single one.", x => x.LnRate.Sd),
        ]);

    public static Table<SiteCurve> Curves { get; } = new(
        "curves",
        "One row a decay curve, for every site, campaign and treatment that make a series, which is at least three retrievals a week or more apart, the longest exposure twice the shortest: each litter fitted with three curves, and both together with one S or one each. Fitted to the remaining fractions of bags that are accepted or set aside for the length of their exposure alone.",
        ["site_key", "campaign", "treatment", "litter", "model"],
        [
            Text<SiteCurve>("site_key", "The site.", x => x.SiteKey),
            Text<SiteCurve>("campaign", "The campaign.", x => x.Campaign),
            Text<SiteCurve>("treatment", "The treatment of the plots; missing for untreated ones.", x => x.Treatment),
            Text<SiteCurve>("litter", "fast, slow, or both where they are fitted together.", x => x.Litter),
            Text<SiteCurve>("model", "single-exponential: w = exp(-k t). asymptotic: w = rest + (1 - rest) exp(-k t). double-exponential: w = p exp(-k t) + (1 - p) exp(-k2 t), p the faster_share. one-s and two-s, both litters: w = 1 - H (1 - S)(1 - exp(-k t)) with one S, or one each.", x => x.Model),
            Text<SiteCurve>("status", "fitted or not-fitted.", x => x.Statement is null ? "fitted" : "not-fitted"),
            Text<SiteCurve>("statement", "Why there is no fit.", x => x.Statement),
            WholeNumber<SiteCurve>("bags", null, "Bags that the curve was fitted to.", x => x.Points),
            WholeNumber<SiteCurve>("retrievals", null, "Retrievals among them; exposures less than a week apart are one.", x => x.Retrievals),
            WholeNumber<SiteCurve>("shortest_days", "d", "Shortest exposure.", x => x.ShortestDays),
            WholeNumber<SiteCurve>("longest_days", "d", "Longest exposure.", x => x.LongestDays),
            .. Parameter(SiteCurve.K, "_per_day", "d-1", "Decay rate: of the litter; of the faster pool in double-exponential; of the slow litter in one-s and two-s"),
            .. Parameter(SiteCurve.KFast, "_per_day", "d-1", "Rate of the fast litter in one-s and two-s"),
            .. Parameter(SiteCurve.K2, "_per_day", "d-1", "Rate of the slower pool in double-exponential"),
            .. Parameter(SiteCurve.Rest, "", "1", "Share of mass that does not decay on this time scale, in asymptotic"),
            .. Parameter(SiteCurve.FasterShare, "", "1", "Share of mass in the faster pool, in double-exponential"),
            .. Parameter(SiteCurve.S, "", "1", "Stabilisation factor: of both litters in one-s, of the fast litter in two-s"),
            .. Parameter(SiteCurve.SSlow, "", "1", "Stabilisation factor of the slow litter in two-s"),
            Number<SiteCurve>("residual_sd", "1", "Standard deviation of the remaining fraction about the curve.", x => x.ResidualSd),
            Number<SiteCurve>("aicc", "1", "Second-order information criterion; missing where there are too few bags for it.", x => x.Aicc),
            Number<SiteCurve>("weight", "1", "Akaike weight among the curves of the same litter, or of both.", x => x.Weight),
            Number<SiteCurve>("one_s_p", "1", "In one-s: probability that a second S would fit better by so much if both litters shared one (F test of the extra sum of squares).", x => x.SharedStabilisationP),
            Number<SiteCurve>("two_bag_k_per_day", "d-1", "Beside it: mean k of the accepted burials by the two-bag equations.", x => x.TwoBagRatePerDay),
            WholeNumber<SiteCurve>("two_bag_burials", null, "Burials in that mean.", x => x.TwoBagBurials),
        ]);

    private static Column<SiteCurve>[] Parameter(string letter, string suffix, string unit, string meaning)
    {
        return
        [
            Number<SiteCurve>(letter + suffix, unit, meaning + ".", x => x.Parameter(letter)?.Value),
            Number<SiteCurve>($"{letter}_se{suffix}", unit, $"Standard error of {letter}; missing where it stands on the edge of what is possible.", x => x.Parameter(letter)?.StandardError),
            Number<SiteCurve>($"{letter}_lower95{suffix}", unit, $"Lower end of the 95 % profile-likelihood interval of {letter}; missing where the data set none.", x => x.Parameter(letter)?.Lower95),
            Number<SiteCurve>($"{letter}_upper95{suffix}", unit, "Upper end of that interval.", x => x.Parameter(letter)?.Upper95),
        ];
    }
}
