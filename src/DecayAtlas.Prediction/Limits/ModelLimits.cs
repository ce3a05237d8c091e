using System.Text.Json.Serialization;

namespace DecayAtlas.Prediction.Limits;

/// <summary>How far a model may be trusted: saved as <c>limits.json</c>.</summary>
internal sealed record ModelLimits(
    [property: JsonPropertyName("applicability")] ApplicabilityState State, PredictionInterval Interval, ErrorCorrelation Errors,
    ErrorParts Parts)
{
    // made when asked for: what was read may not fit the model
    private readonly Lazy<Applicability> _applicability = new(() => new Applicability(State));

    [JsonIgnore]
    public Applicability Applicability => _applicability.Value;
}
