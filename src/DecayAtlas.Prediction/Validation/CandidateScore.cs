using System.Text.Json.Serialization;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Statistics;

namespace DecayAtlas.Prediction.Validation;

/// <summary>How one way of validating went.</summary>
/// <param name="Pooled">Over all held-out rows of all folds together.</param>
/// <param name="FoldNames">What each fold held out, where folds have names.</param>
public sealed record ValidationScore(ErrorMetrics Pooled, IReadOnlyList<double> FoldRmse, IReadOnlyList<string> FoldNames)
{
    /// <summary>Half of the 90 % interval of the error, from its scatter between folds: t on folds − 1 degrees of freedom, as in a
    /// <see cref="Comparison"/>. Without end where fewer than two folds tell nothing of scatter.</summary>
    [JsonIgnore]
    public double RmseHalfWidth90 => FoldRmse.Count < 2 ? double.PositiveInfinity
        : StudentT.InvCDF(0, 1, FoldRmse.Count - 1, 0.95) * FoldRmse.StandardDeviation() / Math.Sqrt(FoldRmse.Count);
}

/// <summary>The row of one candidate in the table of scores.</summary>
/// <param name="Name"><c>mean</c> for the training mean.</param>
/// <param name="Setting">Chosen on all rows, by the blocked folds.</param>
/// <param name="Blocked">Whole spatial blocks held out, each fold's setting chosen without it: the score to believe for a place without
/// sites nearby.</param>
/// <param name="Random">Random sites held out: what the same model seems to reach when neighbours of the test sites are in the training
/// set.</param>
/// <param name="Campaign">One at a time, with all its sites; missing where that cannot be done.</param>
/// <param name="Ecosystem">Likewise.</param>
public sealed record CandidateScore(
    string Name, string Title, string Setting, ValidationScore Blocked, ValidationScore Random, ValidationScore? Campaign,
    ValidationScore? Ecosystem)
{
    /// <summary>Moran's I of the residuals of held-out blocks, by site; missing where there are too few or very many sites.</summary>
    public double? MoranI { get; init; }
}

/// <summary>How much worse the model predicts held-out blocks when one covariate is shuffled.</summary>
/// <param name="RmseIncrease">Mean over the repeats of RMSE(shuffled) − RMSE, in units of the target; about 0 for a covariate the model
/// does not need.</param>
/// <param name="StandardDeviation">Over the repeats (n − 1); 0 with one repeat.</param>
public sealed record CovariateImportance(string Covariate, double RmseIncrease, double StandardDeviation);
