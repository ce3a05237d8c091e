namespace DecayAtlas.Prediction.Limits;

/// <summary>The area of applicability in numbers.</summary>
/// <param name="MedianTrainingIndex">Of training rows to the rows outside their block's fold.</param>
public sealed record ApplicabilitySummary(double Threshold, double MeanDistance, double MedianTrainingIndex, double ShareOfTrainingInside)
{
    internal static ApplicabilitySummary Of(Applicability applicability, double[] trainingIndex) => new(
        applicability.State.Threshold,
        applicability.State.MeanDistance,
        Applicability.Quantile([.. trainingIndex.Order()], 0.5),
        trainingIndex.Count(applicability.IsApplicable) / (double)trainingIndex.Length);
}
