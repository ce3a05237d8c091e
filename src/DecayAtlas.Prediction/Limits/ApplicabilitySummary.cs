namespace DecayAtlas.Prediction.Limits;

/// <summary>The area of applicability in numbers.</summary>
/// <param name="Threshold">Largest dissimilarity index inside.</param>
/// <param name="MeanDistance">Mean distance between training rows in the weighted space.</param>
/// <param name="MedianTrainingIndex">Median DI of training rows to the rows outside their block's fold.</param>
/// <param name="ShareOfTrainingInside">Share of training rows with such a DI inside the threshold.</param>
public sealed record ApplicabilitySummary(double Threshold, double MeanDistance, double MedianTrainingIndex, double ShareOfTrainingInside)
{
    internal static ApplicabilitySummary Of(Applicability applicability, double[] trainingIndex) => new(
        applicability.State.Threshold,
        applicability.State.MeanDistance,
        Applicability.Quantile([.. trainingIndex.Order()], 0.5),
        trainingIndex.Count(applicability.IsApplicable) / (double)trainingIndex.Length);
}
