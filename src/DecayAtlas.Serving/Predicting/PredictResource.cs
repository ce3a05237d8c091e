using Microsoft.Extensions.Primitives;

namespace DecayAtlas.Serving.Predicting;

/// <summary>What the current model says of one place, as a GeoJSON feature (RFC 7946).</summary>
internal sealed class PredictResource(ServedModel? model)
{
    public const string Path = "/predict", Policy = "predict";

    private const string Caution =
        "An estimate with its interval, not a measurement; where applicable is false the place is unlike all training sites. No basis "
        + "for regulation, fertiliser or carbon-credit decisions.";

    public Task AnswerAsync(HttpContext http)
    {
        if (model?.Current is not { } predictor)
            return Problem.WriteAsync(http, Status404NotFound, model?.Absence ?? "This server was started without a model.");
        if (FaultOf(http.Request.Query, predictor.Names) is { } unknown)
            return Problem.WriteAsync(http, Status400BadRequest, unknown);
        Func<string, string?> textOf = name => http.Request.Query[name] is [{ } text] ? text : null;
        (PointPrediction? prediction, string? fault) = predictor.Predict(textOf);
        (PointPrediction, RateModel)? stabilisation = model.OfStabilisation is { } second && second.Predict(textOf).Prediction is { } s
            ? (s, second.Model) : null;
        return prediction is null
            ? Problem.WriteAsync(http, Status400BadRequest, $"The place can't be predicted for: {fault}; expected for example "
                + $"{Path}?lon=-30.5&lat=-40.25&buried_on=2024-04-01&retrieved_on=2024-07-01&depth_cm=8.")
            // a place is somebody's: no copy of it is kept on the way
            : JsonAnswer.WriteAsync(http, FeatureOf(prediction, predictor, stabilisation), "no-store", "application/geo+json");
    }

    private static string? FaultOf(IQueryCollection query, IReadOnlyList<string> names)
    {
        foreach ((string name, StringValues values) in query)
        {
            if (!names.Contains(name))
                return $"There is no parameter of this name; expected {string.Join(", ", names)}.";
            if (values.Count > 1)
                return $"{name} is there {values.Count} times; expected once.";
        }

        return null;
    }

    private static object FeatureOf(PointPrediction p, PointPredictor predictor, (PointPrediction Of, RateModel By)? stabilisation) => new
    {
        Type = "Feature",
        Geometry = new { Type = "Point", Coordinates = new[] { p.Point.LongitudeDegrees, p.Point.LatitudeDegrees } },
        Properties = new
        {
            KPerDay = p.Value,
            KLowerPerDay = p.Lower,
            KUpperPerDay = p.Upper,
            KMeasuredLowerPerDay = p.MeasuredLower,
            KMeasuredUpperPerDay = p.MeasuredUpper,
            IntervalLevel = predictor.Model.Card.Findings.Interval.Level,
            p.IntervalOf,
            p.Dissimilarity,
            Applicable = p.IsApplicable,
            p.Status,
            p.Covariates,
            BuriedOn = p.Conditions.Exposure?.BuriedOn,
            RetrievedOn = p.Conditions.Exposure?.RetrievedOn,
            DepthCm = p.Conditions.DepthCentimetres,
            CoordinateUncertaintyM = p.UncertaintyMetres,
            predictor.Model.Card.ModelId,
            predictor.Model.Card.ReleaseId,
            HalfLifeDays = DaysOf(p.Value),
            HalfLifeLowerDays = DaysOf(p.Upper),
            HalfLifeUpperDays = DaysOf(p.Lower),
            Stabilisation = stabilisation is { Of: var s, By: var by } ? StabilisationOf(s, by) : null,
            Caution,
        },
    };

    private static object StabilisationOf(PointPrediction p, RateModel by) => new
    {
        S = p.Value,
        SLower = p.Lower,
        SUpper = p.Upper,
        SMeasuredLower = p.MeasuredLower,
        SMeasuredUpper = p.MeasuredUpper,
        IntervalLevel = by.Card.Findings.Interval.Level,
        p.IntervalOf,
        p.Dissimilarity,
        Applicable = p.IsApplicable,
        p.Status,
        by.Card.ModelId,
        by.Card.ReleaseId,
    };

    private static double? DaysOf(float? ratePerDay) => ratePerDay is { } k ? HalfLife.Days(k) : null;
}
