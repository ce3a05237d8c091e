namespace DecayAtlas.Questions.Predictions;

/// <summary>A place to predict for, and when and how deep a bag would lie there.</summary>
internal readonly record struct PredictedPlace(GeoPoint Point, double? UncertaintyMetres, BurialConditions Conditions);

/// <summary>Samples the covariates of a model at places, by the catalogue's own rules, as sites are snapped.</summary>
public sealed class PointCovariates
{
    private readonly IReadOnlyList<CovariateSource> _sources;

    private PointCovariates(IReadOnlyList<CovariateSource> sources) => _sources = sources;

    /// <summary>The covariates of a model, found in a catalogue.</summary>
    /// <exception cref="PredictionException">The catalogue does not give what the model learnt from, or nothing tells what sites
    /// state.</exception>
    public static PointCovariates Of(RateModel model, IReadOnlyList<CatalogueEntry> catalogue, ClassChoices choices) =>
        new([.. model.Card.Covariates.Select(c => CovariateMatch.SourceFor(c, catalogue, choices))]);

    /// <summary>The same for places that may state classes themselves.</summary>
    /// <exception cref="PredictionException">The catalogue does not give what the model learnt from.</exception>
    internal static PointCovariates OfStating(RateModel model, IReadOnlyList<CatalogueEntry> catalogue, ClassChoices choices) =>
        new([.. model.Card.Covariates.Select(c => CovariateMatch.StatedOr(c, catalogue, choices))]);

    /// <summary>Covariates that places must state, since neither a grid nor a choice tells them.</summary>
    internal IEnumerable<CardCovariate> ToBeStated =>
        _sources.Where(s => s.Entry is null && s.AsIf is null).Select(s => s.Covariate);

    /// <summary>The covariates at places of one season and depth, one array a covariate; NaN where there is no value.</summary>
    /// <exception cref="GridException">A grid can't be read.</exception>
    public double[][] At(IReadOnlyList<GeoPoint> points, BurialConditions conditions)
    {
        double[][] values = [.. _sources.Select(_ => new double[points.Count])];
        Sample([.. points.Select(p => new PredictedPlace(p, null, conditions))], values);
        return values;
    }

    /// <summary>Fills one array a covariate; NaN where there is no value. Places without coordinates must not be among them.</summary>
    /// <param name="stated">The class that a place itself states of a covariate; missing where it states none. Asked only for what sites
    /// state: a grid covariate comes from its grid, whatever else goes by its name.</param>
    /// <exception cref="GridException">A grid can't be read.</exception>
    internal void Sample(IReadOnlyList<PredictedPlace> places, double[][] values, Func<string, int, string?>? stated = null)
    {
        // Each covariate reads files of its own; those of derived ones may be shared, and reading is safe.
        try
        {
            Parallel.For(0, _sources.Count, c => Sample(_sources[c], places, values[c], stated));
        }
        catch (AggregateException e) when (GridException.FirstOf(e) is { } first)
        {
            throw new GridException(first.Message, e);
        }
    }

    private static void Sample(CovariateSource source, IReadOnlyList<PredictedPlace> places, double[] values,
        Func<string, int, string?>? stated)
    {
        Array.Fill(values, source.AsIf ?? double.NaN);
        if (source.Entry is { } entry)
            Sample(source, entry, places, values);
        for (int i = 0; stated is not null && source.Covariate.IsStated && i < places.Count; i++)
        {
            if (stated(source.Covariate.Name, i)?.Trim() is { Length: > 0 } name)
                values[i] = source.Covariate.Classes!.PlaceOf(name);
        }
    }

    private static void Sample(CovariateSource source, CatalogueEntry entry, IReadOnlyList<PredictedPlace> places, double[] values)
    {
        if (!entry.DependsOnBurial)
        {
            Sample(source, BurialConditions.None, places, [.. Enumerable.Range(0, places.Count)], values);
        }
        else
        {
            foreach (IGrouping<BurialConditions, int> group in Enumerable.Range(0, places.Count).GroupBy(i => places[i].Conditions))
                Sample(source, group.Key, places, [.. group], values);
        }
    }

    private static void Sample(CovariateSource source, BurialConditions conditions, IReadOnlyList<PredictedPlace> places, int[] rows,
        double[] values)
    {
        CovariateRecipe recipe = source.Entry!.RecipeFor(conditions);
        if (recipe.Gap != RecipeGap.None)
            return;
        GeoPoint[] points = [.. rows.Select(i => places[i].Point)];
        double?[] radii = [.. rows.Select(i => places[i].UncertaintyMetres)];
        IReadOnlyList<LayerSample>[] layers = [.. recipe.Layers.Select(layer => layer.Sample(points, radii))];
        double[] here = new double[layers.Length];
        for (int i = 0; i < rows.Length; i++)
        {
            for (int l = 0; l < layers.Length; l++)
                here[l] = layers[l][i].Sample.Value ?? double.NaN;
            RecipeValue value = recipe.Combine(points[i].LatitudeDegrees, here);
            string? label = layers is [var only] ? only[i].Label ?? value.Label : value.Label;
            values[rows[i]] = source.ValueOf(value.Number ?? double.NaN, label);
        }
    }
}
