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
        // what S alone takes may be stated too
        PointPredictor? second = model.OfStabilisation;
        if (FaultOf(http.Request.Query, second is null ? predictor.Names : [.. predictor.Names.Union(second.Names)]) is { } unknown)
            return Problem.WriteAsync(http, Status400BadRequest, unknown);
        Func<string, string?> textOf = name => http.Request.Query[name] is [{ } text] ? text : null;
        (PointPrediction? prediction, string? fault) = predictor.Predict(textOf);
        return prediction is null
            ? Problem.WriteAsync(http, Status400BadRequest, $"The place can't be predicted for: {fault}; expected for example "
                + $"{Path}?lon=-30.5&lat=-40.25&buried_on=2024-04-01&retrieved_on=2024-07-01&depth_cm=8.")
            // a place is somebody's: no copy of it is kept on the way
            : JsonAnswer.WriteAsync(http, FeatureOf(prediction, predictor, StabilisationOf(second, model.AbsenceOfStabilisation, textOf)),
                "no-store", "application/geo+json");
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

    private static object FeatureOf(PointPrediction p, PointPredictor predictor, object? stabilisation) => new
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
            Stabilisation = stabilisation,
            Caution,
        },
    };

    /// <summary>S and its interval, or why there is none; missing where the atlas has no model of S.</summary>
    private static object? StabilisationOf(PointPredictor? predictor, string? absence, Func<string, string?> textOf)
    {
        if (predictor is null)
            return absence is null ? null : ShareOf(null, absence, null);
        (PointPrediction? prediction, string? fault) = predictor.Predict(textOf);
        return ShareOf(prediction, prediction?.Status ?? $"not predicted: {fault}", predictor.Model.Card);
    }

    private static object ShareOf(PointPrediction? p, string status, ModelCard? by) => new
    {
        S = p?.Value,
        SLower = p?.Lower,
        SUpper = p?.Upper,
        SMeasuredLower = p?.MeasuredLower,
        SMeasuredUpper = p?.MeasuredUpper,
        IntervalLevel = by?.Findings.Interval.Level,
        p?.IntervalOf,
        p?.Dissimilarity,
        Applicable = p?.IsApplicable,
        Status = status,
        by?.ModelId,
        by?.ReleaseId,
    };

    private static double? DaysOf(float? ratePerDay) => ratePerDay is { } k ? HalfLife.Days(k) : null;
}
