namespace DecayAtlas.Questions.Predictions;

/// <summary>A place to predict for, and when and how deep a bag would lie there.</summary>
internal readonly record struct PredictedPlace(GeoPoint Point, double? UncertaintyMetres, BurialConditions Conditions);

/// <summary>Samples the covariates of a model at places, by the catalogue's own rules, as sites are snapped.</summary>
public sealed class PointCovariates
{
    private readonly IReadOnlyList<CatalogueEntry> _entries;

    private PointCovariates(IReadOnlyList<CatalogueEntry> entries) => _entries = entries;

    /// <summary>The covariates of a model, found in a catalogue.</summary>
    /// <exception cref="PredictionException">The catalogue does not give what the model learnt from.</exception>
    public static PointCovariates Of(RateModel model, IReadOnlyList<CatalogueEntry> catalogue) =>
        new([.. model.Card.Covariates.Select(c => CovariateMatch.EntryFor(c, catalogue))]);

    /// <summary>The covariates at places of one season and depth, one array a covariate; NaN where there is no value.</summary>
    /// <exception cref="GridException">A grid can't be read.</exception>
    public double[][] At(IReadOnlyList<GeoPoint> points, BurialConditions conditions)
    {
        double[][] values = [.. _entries.Select(_ => new double[points.Count])];
        Sample([.. points.Select(p => new PredictedPlace(p, null, conditions))], values);
        return values;
    }

    /// <summary>Fills one array a covariate; NaN where there is no value. Places without coordinates must not be among them.</summary>
    /// <exception cref="GridException">A grid can't be read.</exception>
    internal void Sample(IReadOnlyList<PredictedPlace> places, double[][] values)
    {
        // Each covariate reads files of its own; those of derived ones may be shared, and reading is safe.
        try
        {
            Parallel.For(0, _entries.Count, c => Sample(_entries[c], places, values[c]));
        }
        catch (AggregateException e) when (GridException.FirstOf(e) is { } first)
        {
            throw new GridException(first.Message, e);
        }
    }

    private static void Sample(CatalogueEntry entry, IReadOnlyList<PredictedPlace> places, double[] values)
    {
        Array.Fill(values, double.NaN);
        if (!entry.DependsOnBurial)
        {
            Sample(entry, BurialConditions.None, places, [.. Enumerable.Range(0, places.Count)], values);
        }
        else
        {
            foreach (IGrouping<BurialConditions, int> group in Enumerable.Range(0, places.Count).GroupBy(i => places[i].Conditions))
                Sample(entry, group.Key, places, [.. group], values);
        }
    }

    private static void Sample(CatalogueEntry entry, BurialConditions conditions, IReadOnlyList<PredictedPlace> places, int[] rows,
        double[] values)
    {
        CovariateRecipe recipe = entry.RecipeFor(conditions);
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
            values[rows[i]] = recipe.Combine(points[i].LatitudeDegrees, here).Number ?? double.NaN;
        }
    }
}
