using System.Text.Json.Serialization;

namespace DecayAtlas.Prediction.Cards;

/// <summary>A covariate as the model knows it.</summary>
/// <param name="TrainingMinimum">Missing for a class, as the maximum.</param>
public sealed record CardCovariate(string Name, string Unit, string Title, double? TrainingMinimum, double? TrainingMaximum)
{
    /// <summary>Missing for a number.</summary>
    public CovariateClasses? Classes { get; init; }

    /// <summary>Whether sites state it; else it is from a grid.</summary>
    public bool IsStated { get; init; }
}

/// <summary>What was found out about the chosen model, all on held-out blocks except the effects.</summary>
/// <param name="Importance">Largest increase first.</param>
/// <param name="Residuals">Missing with fewer than 10 sites.</param>
/// <param name="ErrorByDissimilarity">Nearest first.</param>
/// <param name="Coverage">All, inside and outside the area of applicability, each ecosystem.</param>
public sealed record ModelFindings(
    IReadOnlyList<CovariateImportance> Importance,
    IReadOnlyList<CovariateEffect> Effects,
    IReadOnlyList<LearningPoint> LearningCurve,
    SpatialPattern? Residuals,
    ApplicabilitySummary Applicability,
    IReadOnlyList<ErrorAtDissimilarity> ErrorByDissimilarity,
    PredictionInterval Interval,
    IReadOnlyList<Coverage> Coverage)
{
    /// <summary>Missing where no training row rests on noted burials.</summary>
    public NotedInfluence? WithoutNoted { get; init; }

    public required ErrorParts Parts { get; init; }

    public required MemberSummary Members { get; init; }
}

/// <summary>The members of a model, which tell how sure it is.</summary>
/// <param name="Blocks">Of which sites were drawn.</param>
/// <param name="OfShared">Mean variance of predictions at training rows from the lots and batches that sites share.</param>
public sealed record MemberSummary(int Count, int Blocks, double OfShared);

/// <summary>Everything a reader must know before using a model; saved beside it as <c>card.json</c> and <c>card.md</c>.</summary>
/// <param name="CardVersion">Of this record's JSON form.</param>
/// <param name="TargetUnit">d-1 or 1.</param>
/// <param name="Verdict">The support in one sentence.</param>
/// <param name="BestLearned">The learned candidate with the lowest blocked RMSE.</param>
/// <param name="Scores">All candidates, from simple to flexible; on the scale of learning (ln k, or S).</param>
/// <param name="LeftOut">What could not be trained, and why.</param>
/// <param name="BlocksUsed">How many spatial blocks hold training sites.</param>
/// <param name="Covariates">In the order of the model's features.</param>
/// <param name="Notes">For example a candidate that could not be tried.</param>
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
    internal const int CurrentVersion = 7;

    /// <summary>Names of the features in their order, as whoever feeds the ONNX graph must give them: a class is a column for each of its
    /// classes, 1 where it is there, else 0.</summary>
    public IReadOnlyList<string> Features =>
        [.. Covariates.SelectMany(c => c.Classes is { } classes ? classes.Names.Select(n => $"{c.Name}={n}") : [c.Name])];

    internal FeatureCoding Coding() => new([.. Covariates.Select(c => c.Classes)]);

    /// <summary>How the model moves without the burials that a note casts doubt on.</summary>
    public string NotedSentence() => Findings.WithoutNoted?.Sentence(Target) ?? "No training row of the model rests on a noted burial.";

    public CandidateScore WinnerScore() => Scores.Single(s => s.Name == Winner);

    public CandidateScore MeanScore() => Scores.Single(s => s.Name == MeanCandidate.StableName);

    /// <summary>From the scale of learning to the unit of the target: exp for ln k.</summary>
    public double ToTargetUnit(double value) => Target == PredictionTarget.DecayRate ? Math.Exp(value) : value;

    /// <summary>Whether a learned model is supported: it beats the published response and the training mean beyond noise.</summary>
    [JsonIgnore]
    public bool IsSupported => Support == Support.Learned;

    [JsonIgnore]
    public int Sites => Training.Sites;
}
