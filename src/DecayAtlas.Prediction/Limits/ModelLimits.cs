namespace DecayAtlas.Prediction;

/// <summary>How far a model may be trusted: saved as <c>limits.json</c>.</summary>
internal sealed class ModelLimits(ApplicabilityState applicability, PredictionInterval interval)
{
    public Applicability Applicability { get; } = new(applicability);

    public PredictionInterval Interval { get; } = interval;

    public SavedLimits Saved => new(Applicability.State, Interval);

    public static ModelLimits Of(SavedLimits saved) => new(saved.Applicability, saved.Interval);
}

/// <summary>The JSON form of <see cref="ModelLimits"/>.</summary>
internal sealed record SavedLimits(ApplicabilityState Applicability, PredictionInterval Interval);
