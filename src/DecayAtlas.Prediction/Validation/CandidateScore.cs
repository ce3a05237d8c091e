namespace DecayAtlas.Prediction;

/// <summary>How one way of validating went.</summary>
/// <param name="Pooled">Metrics over all held-out rows of all folds together.</param>
/// <param name="FoldRmse">RMSE of each fold, so that two candidates can be compared fold by fold.</param>
public sealed record ValidationScore(ErrorMetrics Pooled, IReadOnlyList<double> FoldRmse);

/// <summary>The row of one candidate in the table of scores.</summary>
/// <param name="Name"><c>linear</c>, <c>forest</c>, <c>boosted-trees</c>, or <c>mean</c> for the baseline without a model.</param>
/// <param name="Title">Name for people.</param>
/// <param name="Blocked">Whole spatial blocks held out: the score to believe for a place without sites nearby.</param>
/// <param name="Random">Random sites held out: what the same model seems to reach when neighbours of the test sites are in the training set.</param>
public sealed record CandidateScore(string Name, string Title, ValidationScore Blocked, ValidationScore Random);

/// <summary>How much worse the winner predicts held-out blocks when one covariate is shuffled.</summary>
/// <param name="Covariate">Name of the covariate.</param>
/// <param name="RmseIncrease">Mean over the repeats of RMSE(shuffled) − RMSE, in units of ln k; about 0 for a covariate the model does not need.</param>
/// <param name="StandardDeviation">Standard deviation over the repeats (n − 1); 0 with one repeat.</param>
public sealed record CovariateImportance(string Covariate, double RmseIncrease, double StandardDeviation);
