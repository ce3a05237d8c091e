namespace DecayAtlas.Questions.Predictions;

/// <param name="WithoutNoted">How the model of the map moves without noted burials.</param>
public sealed record RegionAnswer(IReadOnlyList<RegionRow> Rows, string WithoutNoted)
{
    /// <summary>What the map was made as if; missing where no class was chosen.</summary>
    public string? AsIf { get; init; }
}

/// <summary>Sums the current map of k or of S over polygons.</summary>
public static class RegionReport
{
    /// <summary>Reads the current map, writes the three files into a folder and gives what they say.</summary>
    /// <param name="of">Which map.</param>
    /// <param name="catalogue">The grids of the map: how sure a mean is hangs on what they are within the polygon.</param>
    /// <param name="conditions">Season and depth of the map.</param>
    /// <param name="choices">How classes come to places; the map's own choices of classes and of grids go before.</param>
    /// <exception cref="AtlasException">The atlas has no map, or not the model of its map.</exception>
    /// <exception cref="GridException">The map or a grid cannot be read.</exception>
    /// <exception cref="ConfigurationException">The polygons cannot be used.</exception>
    /// <exception cref="PredictionException">The map cannot be used.</exception>
    public static RegionAnswer Run(AtlasFolder atlas, MapQuantity of, string polygons, string? nameProperty,
        IReadOnlyList<CatalogueEntry> catalogue, BurialConditions conditions, ClassChoices choices, string folder,
        Action<string, int, int>? progress)
    {
        RegionSet regions = PolygonFile.Read(polygons, nameProperty);
        CurrentMap map = CurrentMap.Of(atlas, of);
        using RateModel model = CurrentModel.Load(atlas, of, map.Summary.ModelId);
        // the map is what is summed, whatever the configuration says by now
        ClassChoices ofMap = choices.AsOf(map.Summary);
        PointCovariates covariates = PointCovariates.Of(model, catalogue, ofMap);
        IReadOnlyList<RegionRow> rows = RegionSummary.Of(map.Path, regions, model,
            places => covariates.At(places, conditions), progress);
        Directory.CreateDirectory(folder);
        RegionFiles.Write(folder, of, regions, rows);
        return new(rows, model.Card.NotedSentence()) { AsIf = ofMap.SentenceFor(model.Card) };
    }
}
