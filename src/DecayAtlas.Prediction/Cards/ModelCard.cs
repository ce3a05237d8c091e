using System.Text.Json.Serialization;

namespace DecayAtlas.Prediction.Cards;

/// <summary>A covariate as the model knows it.</summary>
/// <param name="Name">Name in the grid catalogue.</param>
/// <param name="Unit">Unit of the values.</param>
/// <param name="Title">Name for people.</param>
/// <param name="TrainingMinimum">Smallest training value, in <paramref name="Unit"/>.</param>
/// <param name="TrainingMaximum">Largest training value, in <paramref name="Unit"/>.</param>
public sealed record CardCovariate(string Name, string Unit, string Title, double TrainingMinimum, double TrainingMaximum)
{
    public bool Covers(double value) => value >= TrainingMinimum && value <= TrainingMaximum;
}

/// <summary>What was found out about the chosen model, all on held-out blocks except the effects.</summary>
/// <param name="Importance">Largest increase first.</param>
/// <param name="Effects">Accumulated local effects, in the order of the covariates.</param>
/// <param name="LearningCurve">Error against the share of sites trained on.</param>
/// <param name="Residuals">Moran's I of the residuals of sites; missing with fewer than 10 sites.</param>
/// <param name="Applicability">Where the model may be used.</param>
/// <param name="ErrorByDissimilarity">Expected error by dissimilarity, nearest first.</param>
/// <param name="Interval">How wide the prediction interval is.</param>
/// <param name="Coverage">How often it held what was held out: all, inside and outside the area of applicability, each ecosystem.</param>
public sealed record ModelFindings(
    IReadOnlyList<CovariateImportance> Importance,
    IReadOnlyList<CovariateEffect> Effects,
    IReadOnlyList<LearningPoint> LearningCurve,
    SpatialPattern? Residuals,
    ApplicabilitySummary Applicability,
    IReadOnlyList<ErrorAtDissimilarity> ErrorByDissimilarity,
    PredictionInterval Interval,
    IReadOnlyList<Coverage> Coverage);

/// <summary>Everything a reader must know before using a model; saved beside it as <c>card.json</c> and <c>card.md</c>.</summary>
/// <param name="CardVersion">Version of this record's JSON form.</param>
/// <param name="ModelId">Hash of release, options, training data and code version: the same inputs give the same id anywhere.</param>
/// <param name="CodeVersion">Version of this assembly.</param>
/// <param name="ReleaseId">Release of the atlas the model was trained on.</param>
/// <param name="Target">What is predicted.</param>
/// <param name="TargetUnit">Unit of the prediction: d-1 or 1.</param>
/// <param name="Winner">Name of the model that is given.</param>
/// <param name="Support">How far the data support it.</param>
/// <param name="Verdict">The same in one sentence.</param>
/// <param name="BestLearned">Name of the learned candidate with the lowest blocked RMSE.</param>
/// <param name="Scores">All candidates, from simple to flexible; on the scale of learning (ln k, or S).</param>
/// <param name="LeftOut">Candidates that could not be trained, and why.</param>
/// <param name="Comparisons">What was held against what, and whether the difference is beyond noise.</param>
/// <param name="BlocksUsed">How many spatial blocks hold training sites.</param>
/// <param name="Findings">What was found out about the model.</param>
/// <param name="Covariates">In the order of the model's features.</param>
/// <param name="Collinearity">Whether the effects of covariates can be told apart.</param>
/// <param name="Training">What it was trained on.</param>
/// <param name="Options">Settings of the training, with the seed.</param>
/// <param name="Notes">What a reader should know besides, for example a candidate that could not be tried.</param>
/// <param name="NotFor">What the model must not be used for.</param>
public sealed record ModelCard(
    int CardVersion,
    string ModelId,
    string CodeVersion,
    string ReleaseId,
    PredictionTarget Target,
    string TargetUnit,
    string Winner,
    Support Support,
    string Verdict,
    string BestLearned,
    IReadOnlyList<CandidateScore> Scores,
    IReadOnlyList<LeftOutCandidate> LeftOut,
    IReadOnlyList<Comparison> Comparisons,
    int BlocksUsed,
    ModelFindings Findings,
    IReadOnlyList<CardCovariate> Covariates,
    Collinearity Collinearity,
    TrainingSummary Training,
    TrainingOptions Options,
    IReadOnlyList<string> Notes,
    IReadOnlyList<ExcludedUse> NotFor)
{
    internal const int CurrentVersion = 4;

    /// <summary>Scores of the model that is given.</summary>
    public CandidateScore WinnerScore() => Scores.Single(s => s.Name == Winner);

    /// <summary>Scores of the training mean.</summary>
    public CandidateScore MeanScore() => Scores.Single(s => s.Name == MeanCandidate.StableName);

    /// <summary>From the scale of learning to the unit of the target: exp for ln k.</summary>
    public double ToTargetUnit(double value) => Target == PredictionTarget.DecayRate ? Math.Exp(value) : value;

    /// <summary>Whether a learned model is supported: it beats the published response and the training mean beyond noise.</summary>
    [JsonIgnore]
    public bool IsSupported => Support == Support.Learned;

    /// <summary>Training sites.</summary>
    [JsonIgnore]
    public int Sites => Training.Sites;
}
