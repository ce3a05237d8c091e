namespace DecayAtlas.Questions.Slopes;

/// <summary>How k or S moves with a quantity.</summary>
/// <param name="PerUnit">Change of ln k or S for one unit, with its 95 % interval.</param>
/// <param name="PerStandardDeviation">For one standard deviation of the quantity: of k a ratio, of S a difference.</param>
/// <param name="PValue">Two-sided, under no relation.</param>
public sealed record RelatedSlope(IntervalEstimate PerUnit, IntervalEstimate PerStandardDeviation, double PValue, double DegreesOfFreedom);

/// <summary>What a release says of k or S beside a quantity: numbers, or a statement why there are none.</summary>
/// <param name="SitesLeftOut">Sites with what is asked of where the quantity or a covariate is missing or withheld.</param>
/// <param name="StandardDeviation">Of the quantity between the means of sites; missing with fewer than two.</param>
public sealed record RelateAnswer(
    string To, string Of, int Burials, int Sites, int SitesLeftOut, double? StandardDeviation, RelatedSlope? Slope, string? Statement,
    IReadOnlyList<string> Sentences)
{
    /// <summary>Covariates adjusted for, as straight lines.</summary>
    public IReadOnlyList<string> With { get; init; } = [];

    /// <summary>Whether the quantity is one of samples.</summary>
    public bool IsOfSamples { get; init; }

    /// <summary>Kinds of units whose scatter the intervals hold, beside that of burials and their known errors.</summary>
    public IReadOnlyList<string> Levels { get; init; } = [];
}
