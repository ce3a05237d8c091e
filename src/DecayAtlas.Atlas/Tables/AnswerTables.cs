using DecayAtlas.Atlas.Records;
using static DecayAtlas.Atlas.Tables.Column;

namespace DecayAtlas.Atlas.Tables;

public static partial class AtlasTables
{
    public static Table<VarianceRow> Variance { get; } = new(
        "variance",
        "Where the variance of ln k lies, over the accepted burials of untreated plots with k above 0: one row a level, by restricted maximum likelihood. Model site-alone has sites and burials only; there the share of the site is the intraclass correlation.",
        ["model", "level"],
        [
            Text<VarianceRow>("model", "nested or site-alone.", x => x.Model),
            Text<VarianceRow>("level", "ecosystem, site, campaign, plot or burial, each within the one above; a level that never splits the one above is left out.", x => x.Level),
            Text<VarianceRow>("status", "computed or not-computed.", x => x.Statement is null ? "computed" : "not-computed"),
            WholeNumber<VarianceRow>("units", null, "Units at the level.", x => x.Units),
            WholeNumber<VarianceRow>("burials", null, "Burials that took part.", x => x.Burials),
            Number<VarianceRow>("variance", "1", "Variance of ln k between units of the level.", x => x.Variance),
            Number<VarianceRow>("share", "1", "That variance over the sum of all levels.", x => x.Share),
            Number<VarianceRow>("share_lower95", "1", "Lower end of the 95 % profile-likelihood interval of the share; missing for burials, and rough with few units.", x => x.ShareLower95),
            Number<VarianceRow>("share_upper95", "1", "Upper end of that interval.", x => x.ShareUpper95),
            .. VarianceRow.Planned.Select(n => Number<VarianceRow>(
                $"repeatability_{n}", "1", $"Share of the variance of a site's mean that is the site's own, with {n} burials a site; in the row of the site of site-alone.", x => x.Repeatability?[n])),
            Text<VarianceRow>("statement", "Why there are no numbers.", x => x.Statement),
        ]);

    public static Table<ComparisonRow> Comparisons { get; } = new(
        "comparisons",
        "One row a pair of groups of one question (ecosystem, land use, management, treatment): the ratio of k by a mixed model of ln k with sites random, and what may be concluded; or one row that says why the question has no answer.",
        ["compared_by", "first", "second"],
        [
            Text<ComparisonRow>("compared_by", "ecosystem, land_use, management or treatment.", x => x.By),
            Text<ComparisonRow>("first", "The group divided by.", x => x.First),
            Text<ComparisonRow>("second", "The group divided.", x => x.Second),
            Text<ComparisonRow>("status", "computed or not-computed.", x => x.Ratio is null ? "not-computed" : "computed"),
            WholeNumber<ComparisonRow>("first_burials", null, "Burials of the first group.", x => x.FirstBurials),
            WholeNumber<ComparisonRow>("first_sites", null, "Sites of the first group.", x => x.FirstSites),
            Number<ComparisonRow>("first_k_per_day", "d-1", "exp of the mean of ln k of the first group.", x => x.FirstRatePerDay),
            WholeNumber<ComparisonRow>("second_burials", null, "Burials of the second group.", x => x.SecondBurials),
            WholeNumber<ComparisonRow>("second_sites", null, "Sites of the second group.", x => x.SecondSites),
            Number<ComparisonRow>("second_k_per_day", "d-1", "exp of the mean of ln k of the second group.", x => x.SecondRatePerDay),
            Number<ComparisonRow>("ratio", "1", "k of the second over k of the first.", x => x.Ratio),
            Number<ComparisonRow>("ratio_lower95", "1", "Lower end of the pair's own 95 % interval; missing with too few sites.", x => x.Lower95),
            Number<ComparisonRow>("ratio_upper95", "1", "Upper end of that interval.", x => x.Upper95),
            Number<ComparisonRow>("degrees_of_freedom", "1", "Satterthwaite's degrees of freedom.", x => x.DegreesOfFreedom),
            Number<ComparisonRow>("p_holm", "1", "Probability under no difference, after Holm's correction for all pairs of the question.", x => x.HolmPValue),
            Number<ComparisonRow>("effect_size", "1", "Difference of ln k over the standard deviation of a single burial.", x => x.EffectSize),
            Number<ComparisonRow>("effect_size_lower95", "1", "Lower end of it, that standard deviation taken as known.", x => x.EffectLower95),
            Number<ComparisonRow>("effect_size_upper95", "1", "Upper end of it.", x => x.EffectUpper95),
            Text<ComparisonRow>("sentence", "What may and may not be concluded, or why there are no numbers. Groups were not allotted to sites by lot: a difference shows that groups differ, not why.", x => x.Sentence),
        ]);

    public static Table<AgreementRow> Agreement { get; } = new(
        "agreement",
        "The two-bag k held against the k of the asymptotic curve of the slow litter, over all series in which both are known (Bland and Altman 1986). One row.",
        ["shortcut"],
        [
            Text<AgreementRow>("shortcut", "What is held against the curve: two-bag-k.", _ => "two-bag-k"),
            Text<AgreementRow>("status", "computed or not-computed.", x => x.Ratio is null ? "not-computed" : "computed"),
            WholeNumber<AgreementRow>("series", null, "Series in which both are known and the curve's k is known to within a factor of 2 either way.", x => x.Series),
            Number<AgreementRow>("ratio", "1", "Geometric mean of two-bag k over the curve's k.", x => x.Ratio),
            Number<AgreementRow>("ratio_lower95", "1", "Lower end of its 95 % interval.", x => x.RatioLower95),
            Number<AgreementRow>("ratio_upper95", "1", "Upper end of that interval.", x => x.RatioUpper95),
            Number<AgreementRow>("lower_limit", "1", "Lower limit of agreement of that ratio: about 95 % of single series lie between the limits.", x => x.LowerLimit),
            Number<AgreementRow>("upper_limit", "1", "Upper limit of agreement.", x => x.UpperLimit),
            Number<AgreementRow>("trend_correlation", "1", "Correlation of the log ratio with the log mean; far from 0, one correction for all rates misleads.", x => x.TrendCorrelation),
            Number<AgreementRow>("correction_factor", "1", "A two-bag k times this is what the curve would give on average. Offered; no released k is corrected.", x => x.CorrectionFactor),
            Number<AgreementRow>("correction_lower95", "1", "A two-bag k times this: lower end of the interval in which the curve would find a single site's k.", x => x.CorrectionLower95),
            Number<AgreementRow>("correction_upper95", "1", "Upper end of that interval, likewise.", x => x.CorrectionUpper95),
            Text<AgreementRow>("sentence", "The same in words, or why there are no numbers.", x => x.Sentence),
        ]);
}
