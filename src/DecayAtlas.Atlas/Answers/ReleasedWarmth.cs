namespace DecayAtlas.Atlas.Answers;

[Table("warmth",
    "How k and S go with temperature over the untreated plots of all sites, by a mixed model with sites, blocks of sites, campaigns and "
    + "plots random: one row a form of the response that is told, which are the best by AICc, those within 2 of it, and the best that "
    + "leaves moisture out; or one row that says why there is no answer. Temperature and moisture are those of the configuration.")]
public sealed record ReleasedWarmth
{
    [Column("of", "k or s.", IsKey = true)]
    public required string Of { get; init; }

    [Column("form", "Of k q10, arrhenius or lloyd-taylor (docs/method.md, section 14); of S line.", IsKey = true)]
    public string? Form { get; init; }

    [Column("moisture_term",
        "How moisture was held: linear, quadratic (with an optimum), or none: then what goes with moisture is in "
        + "the number.", IsKey = true)]
    public string? MoistureTerm { get; init; }

    [Column("records", NotedUse.Meaning, IsKey = true)]
    public string Records { get; init; } = NotedUse.All;

    [Column("status", "computed or not-computed.")]
    public string Status => Contrast is null ? "not-computed" : "computed";

    [Column("rank", "1 for the best of all forms by AICc, and so on: the lower, the better it stands by the data.")]
    public int? Rank { get; init; }

    [Column("aicc_above_best", "AICc less that of the best; up to 2 the data do not choose. Missing with too few sites.", "1")]
    public double? AiccAboveBest { get; init; }

    [Column("temperature", "The covariate that is the temperature.")]
    public string? Temperature { get; init; }

    [Column("moisture", "The covariate that is held equal; missing where none is.")]
    public string? Moisture { get; init; }

    [Column("held_equal", "Further covariates that are held equal (answers.warmth_with), with commas between; missing where none is.")]
    public string? HeldEqual { get; init; }

    [Column("burials", "Burials that took part.")]
    public int? Burials { get; init; }

    [Column("sites", "Their sites.")]
    public int? Sites { get; init; }

    [Column("sites_left_out", "Sites with what is asked of where one of these covariates is missing or withheld.")]
    public int? SitesLeftOut { get; init; }

    [Column("coldest_celsius", "Temperature of the coldest of the sites; below it the curve alone speaks.", "degC")]
    public double? ColdestCelsius { get; init; }

    [Column("warmest_celsius", "Temperature of the warmest of the sites; above it the curve alone speaks.", "degC")]
    public double? WarmestCelsius { get; init; }

    [Column("mean_celsius", "Temperature of the sites in the mean, by burials.", "degC")]
    public double? MeanCelsius { get; init; }

    [Column("set_aside_burials",
        "Burials of untreated plots that are set aside for nothing but plateau-not-reached, and so in no number here.")]
    public int? SetAsideBurials { get; init; }

    [Column("set_aside_sites", "Their sites.")]
    public int? SetAsideSites { get; init; }

    [Column("set_aside_mean_celsius", "Temperature of these sites in the mean, by burials; missing where there are none.", "degC")]
    public double? SetAsideMeanCelsius { get; init; }

    [Column("ratio", "k at 20 °C over k at 10 °C by the form.", "1")]
    public double? Ratio { get; init; }

    [Column("ratio_lower95", "Lower end of its 95 % interval.", "1")]
    public double? RatioLower95 { get; init; }

    [Column("ratio_upper95", "Upper end of that interval.", "1")]
    public double? RatioUpper95 { get; init; }

    [Column("difference", "How much S changes where it is 10 K warmer.", "1")]
    public double? Difference { get; init; }

    [Column("difference_lower95", "Lower end of its 95 % interval.", "1")]
    public double? DifferenceLower95 { get; init; }

    [Column("difference_upper95", "Upper end of that interval.", "1")]
    public double? DifferenceUpper95 { get; init; }

    [Column("over_forms",
        "The ratio (of S the difference) over all forms within 2 AICc of the best, weighed by AICc, the choice between them in its "
        + "interval; in the row of the best form, missing where one form stands alone.",
        "1")]
    public double? OverForms { get; init; }

    [Column("over_forms_lower95", "Lower end of its 95 % interval.", "1")]
    public double? OverFormsLower95 { get; init; }

    [Column("over_forms_upper95", "Upper end of that interval.", "1")]
    public double? OverFormsUpper95 { get; init; }

    [Column("corrected_ratio",
        "The ratio with k and S corrected for a fast litter that is dug up before its plateau (plateau.fast_over_slow); of the best "
        + "form.",
        "1")]
    public double? CorrectedRatio { get; init; }

    [Column("corrected_ratio_lower95", "Lower end of its 95 % interval.", "1")]
    public double? CorrectedRatioLower95 { get; init; }

    [Column("corrected_ratio_upper95", "Upper end of that interval.", "1")]
    public double? CorrectedRatioUpper95 { get; init; }

    [Column("corrected_difference",
        "The difference with k and S corrected for a fast litter that is dug up before its plateau (plateau.fast_over_slow); of the best "
        + "form.",
        "1")]
    public double? CorrectedDifference { get; init; }

    [Column("corrected_difference_lower95", "Lower end of its 95 % interval.", "1")]
    public double? CorrectedDifferenceLower95 { get; init; }

    [Column("corrected_difference_upper95", "Upper end of that interval.", "1")]
    public double? CorrectedDifferenceUpper95 { get; init; }

    [Column("parameter", "What the form is told by: Q10 (1), of arrhenius the activation energy (kJ mol-1), of lloyd-taylor E0 (K).")]
    public double? Parameter { get; init; }

    [Column("parameter_lower95", "Lower end of its 95 % interval.")]
    public double? ParameterLower95 { get; init; }

    [Column("parameter_upper95", "Upper end of that interval.")]
    public double? ParameterUpper95 { get; init; }

    [Column("k_at_10_per_day", "k at 10 °C by the form, at the mean of all that is held equal.", "d-1")]
    public double? RateAtTenPerDay { get; init; }

    [Column("s_at_10", "S at 10 °C by the line, at the mean of all that is held equal.", "1")]
    public double? StabilisationAtTen { get; init; }

    [Column("share_explained", "Share of the variance of burials that temperature and all that is held equal explain.", "1")]
    public double? ShareExplained { get; init; }

    [Column("sentence", "The same in words, and what may not be concluded; or why there are no numbers.")]
    public required string Sentence { get; init; }

    /// <summary>The ratio of k or the difference of S.</summary>
    public double? Contrast => Ratio ?? Difference;

    public double? Lower95 => RatioLower95 ?? DifferenceLower95;

    public double? Upper95 => RatioUpper95 ?? DifferenceUpper95;

    /// <summary>With its 95 % interval, of <see cref="Contrast"/> corrected for a fast litter short of its plateau; missing where not
    /// computed.</summary>
    public (double Value, double Lower95, double Upper95)? Corrected =>
        (CorrectedRatio ?? CorrectedDifference, CorrectedRatioLower95 ?? CorrectedDifferenceLower95,
            CorrectedRatioUpper95 ?? CorrectedDifferenceUpper95) is ({ } value, { } lower, { } upper) ? (value, lower, upper) : null;

    /// <summary>1 where it rises with warmth, -1 where it falls, 0 where neither is shown.</summary>
    public int Side => Lower95 > (Ratio is null ? 0 : 1) ? 1 : Upper95 < (Ratio is null ? 0 : 1) ? -1 : 0;

    /// <summary>The term of no moisture.</summary>
    public const string Bare = "none";

    /// <summary>Whether nothing but temperature counts.</summary>
    public bool IsBare => MoistureTerm == Bare;

    /// <summary>k at one temperature over k at another by the form, and its 95 % interval: each form has one parameter, so that ln of the
    /// ratio goes with the step of its term; missing without numbers, and of S.</summary>
    public (double Value, double Lower95, double Upper95)? RatioBetween(double colder, double warmer)
    {
        if ((Ratio, RatioLower95, RatioUpper95) is not ({ } ratio, { } lower, { } upper))
            return null;
        WarmthForm form = WarmthTerm.FormOf(Form)!.Value;
        double steps = (WarmthTerm.Of(form, warmer) - WarmthTerm.Of(form, colder)) / (WarmthTerm.Of(form, 20) - WarmthTerm.Of(form, 10));
        return (Math.Pow(ratio, steps), Math.Pow(lower, steps), Math.Pow(upper, steps));
    }

    /// <summary>k (d⁻¹) or S at a temperature, by the curve; missing without numbers.</summary>
    public double? At(double celsius)
    {
        if (Ratio is null)
            return StabilisationAtTen + Difference * WarmthTerm.Of(WarmthForm.Q10, celsius);
        WarmthForm form = WarmthTerm.FormOf(Form)!.Value;
        double? slope = form == WarmthForm.Q10 ? Math.Log(Ratio.Value) : Parameter;
        return RateAtTenPerDay * Math.Exp(slope!.Value * WarmthTerm.Of(form, celsius));
    }
}
