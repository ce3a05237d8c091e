namespace DecayAtlas.Prediction.Training;

/// <summary>What a model predicts.</summary>
public enum PredictionTarget
{
    /// <summary>k (d⁻¹), learnt as ln k.</summary>
    DecayRate,

    /// <summary>S (no unit), learnt as it is.</summary>
    Stabilisation,
}

/// <summary>One number or class about a site, from one grid or as it is stated.</summary>
/// <param name="Name">In the grid catalogue, by which a model finds its grids, or that of what is stated.</param>
public sealed record CovariateInfo(string Name, string Unit, string Title)
{
    public bool IsClass { get; init; }

    /// <summary>Whether sites state it, as management; else it is from a grid.</summary>
    public bool IsStated { get; init; }

    /// <summary>Of a class, once they are numbered.</summary>
    public CovariateClasses? Classes { get; init; }
}

/// <summary>One site in one campaign: what was seen there (ln k, k in d⁻¹, or S), when at the earliest and
/// latest, and the covariates of the place (WGS 84).</summary>
/// <param name="SiteKey">Names the site over all campaigns; rows of one site are never split between training and test.</param>
/// <param name="Weight">How much the row counts in training, above 0; usually the inverse variance of the target.</param>
/// <param name="Covariates">Values in the order of <see cref="TrainingSet.Covariates"/>, none missing; of a class its place among
/// those of the covariate.</param>
public sealed record TrainingRow(
    string SiteKey,
    string Campaign,
    double LatitudeDegrees,
    double LongitudeDegrees,
    double Target,
    double Weight,
    DateOnly FirstBuriedOn,
    DateOnly LastRetrievedOn,
    IReadOnlyList<double> Covariates,
    string? Ecosystem = null)
{
    public RowErrors Errors { get; init; } = RowErrors.None;

    /// <summary>Names of classes, in the order of the covariates, missing for numbers; empty once they are numbered
    /// (<see cref="ClassRows"/>).</summary>
    public IReadOnlyList<string?> Classes { get; init; } = [];
}

/// <summary>How many rows lack a covariate.</summary>
public sealed record MissingCovariate(string Covariate, int Rows);

/// <summary>What a model is trained on.</summary>
/// <param name="Rows">Site-campaign rows; their order does not change the model.</param>
/// <param name="RowsLeftOut">Rows of the release that are not here because a covariate is missing.</param>
public sealed record TrainingSet(
    IReadOnlyList<CovariateInfo> Covariates,
    IReadOnlyList<TrainingRow> Rows,
    string ReleaseId,
    int RowsLeftOut,
    PredictionTarget Target = PredictionTarget.DecayRate)
{
    /// <summary>For each covariate that some row lacks, how many; a row that lacks two counts in both.</summary>
    public IReadOnlyList<MissingCovariate> Missing { get; init; } = [];

    /// <summary>Classes with too few rows to stand alone.</summary>
    public IReadOnlyList<RareClass> RareClasses { get; init; } = [];

    /// <summary>Accepted burials of the places of learning with k of 0 or below, which has no logarithm; 0 for a model of S.</summary>
    public int NotPositiveBurials { get; init; }

    /// <summary>Burials whose slow litter is at its plateau, so that k is large but no number; 0 for a model of S.</summary>
    public int BurialsAtPlateau { get; init; }

    /// <summary>What is left of each row, in the order of <see cref="Rows"/>, without noted burials: nothing where a row rests on them
    /// alone. Missing where no row rests on any.</summary>
    public IReadOnlyList<TrainingRow?>? WithoutNoted { get; init; }
}
