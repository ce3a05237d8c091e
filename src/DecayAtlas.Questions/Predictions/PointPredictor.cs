namespace DecayAtlas.Questions.Predictions;

/// <summary>A covariate at a place, in the unit of the model; null where the grids have no value.</summary>
public sealed record CovariateAtPoint(string Name, double? Value, string Unit);

/// <summary>What a model says of one place.</summary>
/// <param name="Value">k (d⁻¹) or S, as the model predicts; null where there is no prediction.</param>
/// <param name="Lower">The interval of what is true of the place.</param>
/// <param name="MeasuredLower">The interval of what a site there would be measured as in one campaign.</param>
/// <param name="Status">"predicted", or why not.</param>
public sealed record PointPrediction(
    GeoPoint Point, double? UncertaintyMetres, BurialConditions Conditions, IReadOnlyList<CovariateAtPoint> Covariates,
    float? Value, float? Lower, float? Upper, float? MeasuredLower, float? MeasuredUpper,
    float? Dissimilarity, bool? IsApplicable, string Status);

/// <summary>Predicts for one place at a time, by the rules that <see cref="PredictionTable"/> predicts tables by. Safe to use from many
/// threads.</summary>
public sealed class PointPredictor
{
    public const string Latitude = "lat", Longitude = "lon";

    /// <summary>Every name that <see cref="Predict"/> asks for.</summary>
    public static IReadOnlyList<string> Names { get; } = [Longitude, Latitude, PlaceReading.BuriedOn, PlaceReading.RetrievedOn,
        PlaceReading.Depth, PlaceReading.Uncertainty];

    private readonly PointCovariates _covariates;
    private readonly PlaceReading _reading;

    /// <param name="catalogue">Where its covariates are sampled.</param>
    /// <exception cref="PredictionException">The catalogue does not give what the model learnt from.</exception>
    public PointPredictor(RateModel model, IReadOnlyList<CatalogueEntry> catalogue, BurialConditions usual)
    {
        Model = model;
        _covariates = PointCovariates.Of(model, catalogue);
        _reading = new PlaceReading(Latitude, Longitude, usual);
    }

    public RateModel Model { get; }

    /// <param name="textOf">The text under one of <see cref="Names"/>; null where there is none.</param>
    /// <returns>The prediction; or null, and what is wrong with the texts.</returns>
    /// <exception cref="GridException">A grid can't be read.</exception>
    public (PointPrediction? Prediction, string? Fault) Predict(Func<string, string?> textOf)
    {
        (PredictedPlace place, string? fault) = _reading.Read(textOf);
        if (fault is not null)
            return (null, fault);
        PredictedRows rows = new(Model, 1);
        _covariates.Sample([place], rows.Values);
        rows.Predict(1, _ => true);
        PredictionBlock block = rows.Block;
        bool known = rows.IsPredicted(0);
        float? Known(float[] values) => known ? values[0] : null;
        return (new PointPrediction(
            place.Point, place.UncertaintyMetres, place.Conditions,
            [.. Model.Card.Covariates
                .Select((c, i) => new CovariateAtPoint(c.Name, double.IsFinite(rows.Values[i][0]) ? rows.Values[i][0] : null, c.Unit))],
            Known(block.Predictions), Known(block.Lower), Known(block.Upper),
            Known(block.MeasuredLower), Known(block.MeasuredUpper),
            Known(block.Dissimilarity), known ? block.Applicable[0] : null, rows.StatusOf(0)), null);
    }
}
