namespace DecayAtlas.Prediction;

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

/// <summary>Everything a reader must know before using a model; saved beside it as <c>card.json</c> and <c>card.md</c>.</summary>
/// <param name="CardVersion">Version of this record's JSON form.</param>
/// <param name="ModelId">Hash of release, options, training data and code version: the same inputs give the same id anywhere.</param>
/// <param name="CodeVersion">Version of this assembly.</param>
/// <param name="ReleaseId">Release of the atlas the model was trained on.</param>
/// <param name="Target">What is predicted.</param>
/// <param name="TargetUnit">Unit of the prediction.</param>
/// <param name="Winner">Name of the candidate with the lowest blocked RMSE.</param>
/// <param name="BeatsBaseline">Whether the winner's blocked RMSE is below that of the training mean. When false the model knows nothing about unseen places.</param>
/// <param name="Scores">All candidates and the baseline <c>mean</c>.</param>
/// <param name="BlocksUsed">How many spatial blocks hold training sites.</param>
/// <param name="Importance">Largest increase first.</param>
/// <param name="Applicability">Where the model may be used.</param>
/// <param name="Interval">How wide the prediction interval is.</param>
/// <param name="Covariates">In the order of the model's features.</param>
/// <param name="Rows">Training rows (site x campaign).</param>
/// <param name="RowsLeftOut">Rows not used because a covariate is missing.</param>
/// <param name="Sites">Training sites.</param>
/// <param name="Campaigns">Training campaigns.</param>
/// <param name="FirstBuriedOn">Earliest burial.</param>
/// <param name="LastRetrievedOn">Latest retrieval.</param>
/// <param name="WestDegrees">Western edge of the training sites (WGS 84).</param>
/// <param name="SouthDegrees">Southern edge of the training sites.</param>
/// <param name="EastDegrees">Eastern edge of the training sites.</param>
/// <param name="NorthDegrees">Northern edge of the training sites.</param>
/// <param name="Options">Settings of the training, with the seed.</param>
/// <param name="NotFor">What the model must not be used for.</param>
public sealed record ModelCard(
    int CardVersion,
    string ModelId,
    string CodeVersion,
    string ReleaseId,
    string Target,
    string TargetUnit,
    string Winner,
    bool BeatsBaseline,
    IReadOnlyList<CandidateScore> Scores,
    int BlocksUsed,
    IReadOnlyList<CovariateImportance> Importance,
    ApplicabilitySummary Applicability,
    PredictionInterval Interval,
    IReadOnlyList<CardCovariate> Covariates,
    int Rows,
    int RowsLeftOut,
    int Sites,
    int Campaigns,
    DateOnly FirstBuriedOn,
    DateOnly LastRetrievedOn,
    double WestDegrees,
    double SouthDegrees,
    double EastDegrees,
    double NorthDegrees,
    TrainingOptions Options,
    IReadOnlyList<string> NotFor)
{
    /// <summary>Name of the baseline row in <see cref="Scores"/>.</summary>
    public const string BaselineName = "mean";

    internal const int CurrentVersion = 2;

    /// <summary>Scores of the chosen candidate.</summary>
    public CandidateScore WinnerScore() => Scores.Single(s => s.Name == Winner);

    /// <summary>Scores of the training mean.</summary>
    public CandidateScore BaselineScore() => Scores.Single(s => s.Name == BaselineName);
}
