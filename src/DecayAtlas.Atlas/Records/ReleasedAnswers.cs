namespace DecayAtlas.Atlas.Records;

/// <summary>One level of a variance split over all untreated plots, or the statement why there is none.</summary>
/// <param name="Model">nested: all levels together. site-alone: sites and burials only, of which share is the intraclass correlation.</param>
/// <param name="Level">ecosystem, site, campaign, plot or burial.</param>
/// <param name="Units">How many there are.</param>
/// <param name="Burials">Burials that took part.</param>
/// <param name="Variance">Variance of ln k between units of the level, within the level above.</param>
/// <param name="Share">That variance over the sum of all (1).</param>
/// <param name="ShareLower95">Lower end of its 95 % interval.</param>
/// <param name="ShareUpper95">Upper end.</param>
/// <param name="Repeatability">By planned burials a site: share of the variance of a site's mean that is the site's own (1).</param>
/// <param name="Statement">Why there are no numbers.</param>
public sealed record VarianceRow(
    string Model, string Level, int? Units, int Burials, double? Variance, double? Share, double? ShareLower95, double? ShareUpper95,
    IReadOnlyDictionary<int, double>? Repeatability, string? Statement)
{
    /// <summary>Planned burials a site for which repeatability is released.</summary>
    public static IReadOnlyList<int> Planned { get; } = [2, 3, 5, 10, 20];
}

/// <summary>Two groups held against each other, or the statement why that can't be done.</summary>
/// <param name="By">What the groups are made by.</param>
/// <param name="First">The group divided by.</param>
/// <param name="Second">The group divided.</param>
/// <param name="FirstBurials">Burials of the first.</param>
/// <param name="FirstSites">Its sites.</param>
/// <param name="FirstRatePerDay">exp of its mean of ln k (d⁻¹).</param>
/// <param name="SecondBurials">Burials of the second.</param>
/// <param name="SecondSites">Its sites.</param>
/// <param name="SecondRatePerDay">exp of its mean of ln k (d⁻¹).</param>
/// <param name="Ratio">k of the second over k of the first.</param>
/// <param name="Lower95">Lower end of the ratio's own 95 % interval.</param>
/// <param name="Upper95">Upper end.</param>
/// <param name="DegreesOfFreedom">Satterthwaite's degrees of freedom.</param>
/// <param name="HolmPValue">Probability under no difference, corrected for all pairs of the question.</param>
/// <param name="EffectSize">Difference of ln k over the standard deviation of a single burial.</param>
/// <param name="EffectLower95">Lower end of it.</param>
/// <param name="EffectUpper95">Upper end.</param>
/// <param name="Sentence">What may and may not be concluded, or why there are no numbers.</param>
public sealed record ComparisonRow(
    string By, string? First, string? Second, int? FirstBurials, int? FirstSites, double? FirstRatePerDay, int? SecondBurials, int? SecondSites, double? SecondRatePerDay,
    double? Ratio, double? Lower95, double? Upper95, double? DegreesOfFreedom, double? HolmPValue, double? EffectSize, double? EffectLower95, double? EffectUpper95, string Sentence);

/// <summary>The two-bag k held against the k of fitted curves: how far the shortcut can be trusted, measured on these data.</summary>
/// <param name="Series">Series in which both are known.</param>
/// <param name="Ratio">Geometric mean of shortcut over curve.</param>
/// <param name="RatioLower95">Lower end of its 95 % interval.</param>
/// <param name="RatioUpper95">Upper end.</param>
/// <param name="LowerLimit">Lower limit of agreement, as a ratio: 95 % of single series lie between the limits.</param>
/// <param name="UpperLimit">Upper limit of agreement.</param>
/// <param name="TrendCorrelation">Correlation of the log ratio with the log mean: far from 0, one correction for all rates misleads.</param>
/// <param name="CorrectionFactor">Times this, a two-bag k becomes what a curve would give on average; offered, nowhere applied.</param>
/// <param name="CorrectionLower95">Times this: lower end of the interval in which a curve would find a single site's k.</param>
/// <param name="CorrectionUpper95">Upper end.</param>
/// <param name="Sentence">The same in words, or why there are no numbers.</param>
public sealed record AgreementRow(
    int Series, double? Ratio, double? RatioLower95, double? RatioUpper95, double? LowerLimit, double? UpperLimit, double? TrendCorrelation,
    double? CorrectionFactor, double? CorrectionLower95, double? CorrectionUpper95, string Sentence);
