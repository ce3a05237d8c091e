namespace DecayAtlas.Questions.Predictions;

/// <param name="WithoutNoted">How the model of the map moves without noted burials.</param>
public sealed record RegionAnswer(IReadOnlyList<RegionRow> Rows, string WithoutNoted)
{
    /// <summary>What the map was made as if; missing where no class was chosen.</summary>
    public string? AsIf { get; init; }
}

/// <summary>A region to draw.</summary>
/// <param name="Options">What the map shows and says beside its cells, by its model.</param>
public sealed record RegionDrawing(string Region, Func<RateModel, MapOptions> Options)
{
    public const string FileName = "region.png";
}

/// <summary>Sums the current map of k or of S over polygons.</summary>
public static class RegionReport
{
    /// <summary>Reads the current map, writes the three files into a folder and gives what they say.</summary>
    /// <param name="of">Which map.</param>
    /// <param name="catalogue">The grids of the map: how sure a mean is hangs on what they are within the polygon.</param>
    /// <param name="conditions">Season and depth of the map.</param>
    /// <param name="drawing">A region to draw too; none unless stated.</param>
    /// <param name="choices">How classes come to places; the map's own choices of classes and of grids go before.</param>
    /// <exception cref="AtlasException">The atlas has no map, or not the model of its map.</exception>
    /// <exception cref="GridException">The map or a grid cannot be read.</exception>
    /// <exception cref="ConfigurationException">The polygons cannot be used.</exception>
    /// <exception cref="PredictionException">The map cannot be used.</exception>
    public static RegionAnswer Run(AtlasFolder atlas, MapQuantity of, string polygons, string? nameProperty,
        IReadOnlyList<CatalogueEntry> catalogue, BurialConditions conditions, ClassChoices choices, string folder,
        RegionDrawing? drawing, Action<string, int, int>? progress)
    {
        RegionSet regions = PolygonFile.Read(polygons, nameProperty);
        Region? drawn = drawing is null ? null : regions.Regions.FirstOrDefault(r => r.Name == drawing.Region)
            ?? throw new ConfigurationException($"{polygons} has no polygon called {drawing.Region}; expected one of "
                + $"{string.Join(", ", regions.Regions.Take(20).Select(r => r.Name))}.");
        CurrentMap map = CurrentMap.Of(atlas, of);
        using RateModel model = CurrentModel.Load(atlas, of, map.Summary.ModelId);
        // the map is what is summed, whatever the configuration says by now
        ClassChoices ofMap = choices.AsOf(map.Summary);
        PointCovariates covariates = PointCovariates.Of(model, catalogue, ofMap);
        IReadOnlyList<RegionRow> rows = RegionSummary.Of(map.Path, regions, model,
            places => covariates.At(places, conditions), progress);
        Directory.CreateDirectory(folder);
        RegionFiles.Write(folder, of, regions, rows);
        if (drawn is not null)
        {
            byte[] picture =
                RegionPicture.Draw(map.Path, drawn, model.Card, map.Summary, drawing!.Options(model));
            DurableFile.Write(Path.Combine(folder, RegionDrawing.FileName), file => file.Write(picture));
        }

        return new(rows, model.Card.NotedSentence()) { AsIf = ofMap.SentenceFor(model.Card) };
    }
}
