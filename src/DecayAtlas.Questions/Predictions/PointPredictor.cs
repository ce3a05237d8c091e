namespace DecayAtlas.Questions.Predictions;

/// <summary>A covariate at a place, in the unit of the model; null where the grids have no value.</summary>
public sealed record CovariateAtPoint(string Name, double? Value, string Unit)
{
    /// <summary>Of a class, its name; null where it is a number or was never seen.</summary>
    public string? Class { get; init; }

    /// <summary>True where no grid and nobody who asked says it: every place is taken for this class.</summary>
    public bool? IsAsIf { get; init; }
}

/// <summary>What a model says of one place.</summary>
/// <param name="Value">k (d⁻¹) or S, as the model predicts; null where there is no prediction.</param>
/// <param name="Lower">The interval of what is true of the place.</param>
/// <param name="MeasuredLower">The interval of what a site there would be measured as in one campaign.</param>
/// <param name="Status">"predicted", or why not.</param>
public sealed record PointPrediction(
    GeoPoint Point, double? UncertaintyMetres, BurialConditions Conditions, IReadOnlyList<CovariateAtPoint> Covariates,
    float? Value, float? Lower, float? Upper, float? MeasuredLower, float? MeasuredUpper,
    float? Dissimilarity, bool? IsApplicable, string Status)
{
    /// <summary>The kind of place (ecosystem) whose own interval this is; null for that of all places.</summary>
    public string? IntervalOf { get; init; }
}

/// <summary>Predicts for one place at a time, by the rules that <see cref="PredictionTable"/> predicts tables by. Safe to use from many
/// threads.</summary>
public sealed class PointPredictor
{
    public const string Latitude = "lat", Longitude = "lon", Ecosystem = KindsOfPlaces.Name,
        BuriedOn = PlaceReading.BuriedOn, RetrievedOn = PlaceReading.RetrievedOn;

    private static readonly string[] OfPlace = [Longitude, Latitude, BuriedOn, RetrievedOn, PlaceReading.Depth,
        PlaceReading.Uncertainty, Ecosystem];

    private readonly CardCovariate[] _stated;

    private readonly PointCovariates _covariates;
    private readonly PlaceReading _reading;
    private readonly IReadOnlyDictionary<string, string> _chosen;

    /// <param name="catalogue">Where its covariates are sampled.</param>
    /// <exception cref="PredictionException">The catalogue does not give what the model learnt from.</exception>
    /// <param name="choices">Classes of places that state none.</param>
    public PointPredictor(RateModel model, IReadOnlyList<CatalogueEntry> catalogue, BurialConditions usual, ClassChoices choices)
    {
        Model = model;
        _covariates = PointCovariates.OfStating(model, catalogue, choices);
        _stated = [.. model.Card.Covariates.Where(c => c.IsStated)];
        Names = [.. OfPlace.Union(_stated.Select(c => c.Name))];
        _chosen = choices.ChosenFor(model.Card);
        _reading = new PlaceReading(Latitude, Longitude, usual);
    }

    public RateModel Model { get; }

    /// <summary>Every name that <see cref="Predict"/> asks for: of the place, and what the model takes as sites state
    /// it.</summary>
    public IReadOnlyList<string> Names { get; }

    /// <param name="textOf">The text under one of <see cref="Names"/>; null where there is none.</param>
    /// <returns>The prediction; or null, and what is wrong with the texts.</returns>
    /// <exception cref="GridException">A grid can't be read.</exception>
    public (PointPrediction? Prediction, string? Fault) Predict(Func<string, string?> textOf)
    {
        (PredictedPlace place, string? fault) = _reading.Read(textOf);
        if ((fault ?? FaultOfClasses(textOf)) is { } wrong)
            return (null, wrong);
        PredictedRows rows = new(Model, 1);
        _covariates.Sample([place], rows.Values, (name, _) => textOf(name));
        rows.Predict(1, _ => true, _ => place.Point, _ => textOf(Ecosystem));
        PredictionBlock block = rows.Block;
        bool known = rows.IsPredicted(0);
        float? Known(float[] values) => known ? values[0] : null;
        return (new PointPrediction(
            place.Point, place.UncertaintyMetres, place.Conditions,
            [.. Model.Card.Covariates.Select((c, i) => AtPoint(c, rows.Values[i][0], textOf))],
            Known(block.Predictions), Known(block.Lower), Known(block.Upper),
            Known(block.MeasuredLower), Known(block.MeasuredUpper),
            Known(block.Dissimilarity), known ? block.Applicable[0] : null, rows.StatusOf(0))
        {
            IntervalOf = block.IntervalOf[0],
        }, null);
    }

    private string? FaultOfClasses(Func<string, string?> textOf)
    {
        foreach (CardCovariate covariate in _stated)
        {
            if (textOf(covariate.Name)?.Trim() is { Length: > 0 } name && covariate.Classes!.PlaceOf(name) < 0)
                return $"{covariate.Name} is no class that the model knows, which are {covariate.Classes.Choice}";
        }

        return _covariates.ToBeStated.FirstOrDefault(c => string.IsNullOrWhiteSpace(textOf(c.Name))) is { } lacking
            ? $"{lacking.Name} is missing, one of {lacking.Classes!.Choice}" : null;
    }

    private CovariateAtPoint AtPoint(CardCovariate covariate, double value, Func<string, string?> textOf) =>
        covariate.Classes is not { } classes ? new(covariate.Name, double.IsFinite(value) ? value : null, covariate.Unit)
        : new(covariate.Name, null, covariate.Unit)
        {
            Class = value >= 0 ? classes.Names[(int)value] : null,
            IsAsIf = _chosen.ContainsKey(covariate.Name) && !(covariate.IsStated && textOf(covariate.Name)?.Trim() is { Length: > 0 })
                ? true : null,
        };
}
