namespace DecayAtlas.Prediction.Limits;

/// <summary>How far a model may be trusted: saved as <c>limits.json</c>.</summary>
internal sealed class ModelLimits(ApplicabilityState applicability, PredictionInterval interval, ErrorCorrelation errors)
{
    public Applicability Applicability { get; } = new(applicability);

    public PredictionInterval Interval { get; } = interval;

    public ErrorCorrelation Errors { get; } = errors;

    public SavedLimits Saved => new(Applicability.State, Interval, Errors);

    public static ModelLimits Of(SavedLimits saved) => new(saved.Applicability, saved.Interval, saved.Errors);
}

/// <summary>The JSON form of <see cref="ModelLimits"/>.</summary>
internal sealed record SavedLimits(ApplicabilityState Applicability, PredictionInterval Interval, ErrorCorrelation Errors);
