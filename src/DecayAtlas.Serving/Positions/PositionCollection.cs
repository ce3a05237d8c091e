using System.Globalization;

namespace DecayAtlas.Serving.Positions;

/// <summary>What can be asked of a place.</summary>
/// <param name="Unit">By the Unified Code for Units of Measure; missing for what is a kind or a yes or no.</param>
internal sealed record PositionParameter(string Name, string Label, string? Unit, Func<PointPrediction, double?> ValueOf);

/// <summary>A collection of parameters that are known at every place: what a model predicts, or the covariates that it
/// takes.</summary>
/// <param name="Predictor">What knows them.</param>
internal sealed record PositionCollection(string Id, string Title, string Description, IReadOnlyList<PositionParameter> Parameters,
    PointPredictor Predictor)
{
    /// <summary>Those that the current models give; none without a model.</summary>
    public static IReadOnlyList<PositionCollection> Of(ServedModel? model)
    {
        if (model?.Current is not { } rate)
            return [];
        return
        [
            new("predictions-k", "Predicted decay rate", "Decay rate k of the slow litter as the current model predicts it, with its "
                + "interval. An estimate, not a measurement; no basis for regulation, fertiliser or carbon-credit decisions.",
                [.. Predicted("k", "per_day", "decay rate k", "/d"), new("half_life_days", "Half-life of the slow litter", "d",
                    p => p.Value is { } k ? HalfLife.Days(k) : null)], rate),
            .. model.OfStabilisation is not { } share ? Array.Empty<PositionCollection>() :
            [
                new PositionCollection("predictions-s", "Predicted stabilisation factor", "Stabilisation factor S as the current model "
                    + "predicts it, with its interval. An estimate, not a measurement.",
                    [.. Predicted("s", null, "stabilisation factor S", "1")], share),
            ],
            new("covariates", "Covariates", "The covariates that the model takes, sampled from the grids of the configuration.",
                [.. rate.Model.Card.Covariates.Where(c => c.Classes is null).Select(c => new PositionParameter(c.Name, c.Name,
                    ReleaseDescription.UcumOf(c.Unit), p => p.Covariates.FirstOrDefault(at => at.Name == c.Name)?.Value))], rate),
        ];
    }

    private static IEnumerable<PositionParameter> Predicted(string letter, string? ending, string what, string unit)
    {
        yield return One("", $"Predicted {what}", p => p.Value);
        yield return One("_lower", $"Lower end of the interval of the {what}", p => p.Lower);
        yield return One("_upper", $"Upper end of the interval of the {what}", p => p.Upper);
        yield return One("_measured_lower", $"Lower end for what a site would be measured as: {what}", p => p.MeasuredLower);
        yield return One("_measured_upper", $"Upper end for what a site would be measured as: {what}", p => p.MeasuredUpper);
        yield return new("dissimilarity", "How unlike the training sites the place is", "1", p => Plain(p.Dissimilarity));
        yield return new("applicable", "1 where the place is like the training sites, 0 where it is not", "1",
            p => p.IsApplicable is { } yes ? yes ? 1 : 0 : null);

        PositionParameter One(string part, string label, Func<PointPrediction, float?> of) =>
            new($"{letter}{part}{(ending is null ? "" : "_" + ending)}", label, unit, p => Plain(of(p)));
    }

    // as the single-precision number is written, and not with digits that it has not
    private static double? Plain(float? value) => value is { } known
        ? double.Parse(known.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture) : null;
}
