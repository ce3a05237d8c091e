namespace DecayAtlas.Prediction.Joint;

/// <summary>What the joint map of k and S found: areas on the ellipsoid, cells that both maps predict and apply to.</summary>
/// <param name="EveryAsked">The cuts are medians over every so manieth cell in both directions.</param>
/// <param name="Correlation">Of predicted ln k and S over cells; missing where either is the same everywhere.</param>
public sealed record JointSummary(
    string RateModelId,
    string StabilisationModelId,
    string ReleaseId,
    JointCuts Cuts,
    int EveryAsked,
    double PredictedSquareKilometres,
    double ApplicableSquareKilometres,
    double ToldSquareKilometres,
    double? Correlation,
    IReadOnlyList<JointShare> Classes)
{
    /// <summary>The maps that it is made of, by the names of their folders.</summary>
    public string? RateMapId { get; init; }

    public string? StabilisationMapId { get; init; }

    /// <summary>The class that every cell was taken for, by covariate of either model; missing where none was chosen.</summary>
    public IReadOnlyDictionary<string, string>? AsIf { get; init; }

    /// <summary>What arithmetic does to the picture.</summary>
    public string Caution { get; init; } = JointMap.ByConstruction;
}

/// <summary>A class of the joint map.</summary>
/// <param name="ToldSquareKilometres">Of its area, where the intervals of k and of S both lie on one side of their cuts.</param>
public sealed record JointShare(int Code, string Name, double SquareKilometres, double ToldSquareKilometres);
