namespace DecayAtlas.Questions.Sensitivity;

/// <summary>What is assumed in a release, and how far its suppositions go.</summary>
/// <param name="ShortestDays">Shortest exposure that is accepted (d).</param>
/// <param name="LongestDays">Longest (d).</param>
/// <param name="FastOverSlow">The fast litter's rate over that of the slow one (1).</param>
/// <param name="Covariates">Those that the model learns from; none where there is no model.</param>
public sealed record SensitivityBasis(
    MeasurementAssumptions Assumptions, int ShortestDays, int LongestDays, double FastOverSlow, IReadOnlyList<string> Covariates)
{
    /// <summary>What the release asks of warmth; missing where the configuration names no temperature.</summary>
    public WarmthRequest? Warmth { get; init; }
}
