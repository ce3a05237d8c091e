using System.Security.Cryptography;
using System.Text;
using System.Text.Json;

namespace DecayAtlas.Pipeline.Stages;

/// <summary>The current model and the grids -> GeoTIFF, NetCDF and picture of predicted decay rate, and its sums over regions.</summary>
public static class MapStage
{
    /// <summary>Where the map lies, and whether it was drawn now.</summary>
    public sealed record Output(string Folder, bool IsNew, MapSummary Summary) : IStageOutput
    {
        public string Sentence => $"{(IsNew ? "drawn" : "unchanged, not drawn again")}: {Summary.Predicted} of {Summary.Cells} cells "
            + $"predicted{(Summary.ClippedToGrids ? ", cut to the grids" : "")}{(Summary.WithoutNoted is { } shift
                ? Invariant($"; without noted records k differs by a factor of {shift.MedianFactor:0.000} (median), ")
                    + Invariant($"{shift.Factor95:0.000} (95th percentile)") : "")}{OfClasses}";

        private string OfClasses => (Summary.AsIf is { } chosen ? $"; {ClassChoices.Sentence(chosen)}" : "")
            + (Summary.UnseenClasses is { } unseen
                ? $"; no prediction in {unseen.Values.Sum()} cells of classes that the model never saw "
                    + $"({string.Join(", ", unseen.OrderByDescending(c => c.Value).Take(5).Select(c => $"{c.Key} {c.Value}"))})" : "");
    }

    public static Output Run(AtlasFolder atlas, MapSection section, TrainSection train, IReadOnlyList<CatalogueEntry> catalogue,
        Action<string, int, int>? progress)
    {
        using RateModel model = CurrentModel.Load(atlas);
        MapOptions options = OptionsOf(section);
        Followed(() => section.Choices.Check(model.Card));
        RegionSet? regions = section.Regions is { } polygons ? Polygons("regions", polygons, section.RegionName) : null;
        // the dots are the places that the model learnt from, as published
        GeoPoint[] sites =
        [
            .. TrainStage.TrainingSetOf(new ReleaseReader(atlas, model.Card.ReleaseId), train, catalogue).Rows
                .DistinctBy(r => r.SiteKey).Select(r => new GeoPoint(r.LongitudeDegrees, r.LatitudeDegrees)),
        ];
        (string path, bool isNew) = MadeFolder.Ensure(atlas.Maps, IdOf(model.Card, section, catalogue), folder =>
        {
            MapSummary made = Make(model, catalogue, options with { Sites = sites }, folder, progress);
            if (regions is not null)
            {
                PointCovariates covariates = PointCovariates.Of(model, catalogue, section.Choices);
                RegionFiles.Write(folder, regions, RegionSummary.Of(Path.Combine(folder, RateMap.TifName), regions, model,
                    places => covariates.At(places, section.Conditions), progress));
            }

            DurableFile.WriteText(Path.Combine(folder, RateMap.SummaryName), JsonSerializer.Serialize(made, JsonText.Options) + "\n");
        });
        return new Output(path, isNew, SummaryOf(path)!);
    }

    /// <summary>What a map says of itself; missing where it has no such file.</summary>
    internal static MapSummary? SummaryOf(string folder) => Path.Combine(folder, RateMap.SummaryName) is var path && File.Exists(path)
        ? JsonSerializer.Deserialize<MapSummary>(File.ReadAllText(path), JsonText.Options) : null;

    private static MapSummary Make(RateModel model, IReadOnlyList<CatalogueEntry> catalogue, MapOptions options, string folder,
        Action<string, int, int>? progress)
    {
        MapSummary? made = null;
        Followed(() => made = RateMap.Make(model, catalogue, options,
            new MapFiles(Path.Combine(folder, RateMap.TifName), Path.Combine(folder, RateMap.NetCdfName),
                Path.Combine(folder, RateMap.PngName)), progress));
        return made!;
    }

    private static void Followed(Action section)
    {
        try
        {
            section();
        }
        catch (PredictionException e) when (e.IsOfRequest)
        {
            throw new ConfigurationException($"Section map cannot be followed: {e.Message}", e);
        }
    }

    private static RegionSet Polygons(string key, string path, string? name = null)
    {
        try
        {
            return RegionSet.Read(path, name);
        }
        catch (PredictionException e)
        {
            throw new ConfigurationException($"map.{key} cannot be followed: {e.Message}", e);
        }
    }

    /// <summary>The map that a configuration asks for, without sites.</summary>
    /// <exception cref="ConfigurationException">Its polygons cannot be read.</exception>
    public static MapOptions OptionsOf(MapSection section) => new(section.Title, [])
    {
        Region = section.Polygons is { } polygons ? MapRegion.Of(Polygons("polygons", polygons))
            : section.Box is { } box ? MapRegion.Of(box) : MapRegion.Whole,
        Crs = section.Crs,
        CellSize = section.CellSize,
        Conditions = section.Conditions,
        Choices = section.Choices,
    };

    /// <summary>The model id and a digest of all else that shapes the map: the grids' bytes, where it lies, season and depth, polygons, the
    /// title.</summary>
    private static string IdOf(ModelCard card, MapSection section, IReadOnlyList<CatalogueEntry> catalogue)
    {
        IEnumerable<string> polygons = new[] { section.Polygons, section.Regions }.Select(path => path is null ? "none"
            : File.Exists(path) ? DurableFile.Sha256(path)
            : throw new ConfigurationException($"There is no polygon file {path}; correct the path in section map."));
        IEnumerable<string> grids = catalogue
            .Where(e => card.Covariates.Any(c => c.Name == e.Name) || section.Choices.FromGrid.Values.Contains(e.Name))
            .SelectMany(e => new[] { e.Title, GridInput.Of(e, GridFingerprint.OfFile).Digest });
        string text = string.Create(InvariantCulture, $"{MapBands.Version}\n{section with { Polygons = null, Regions = null }}\n")
            + string.Concat(polygons.Concat(grids).Select(line => line + "\n"));
        return $"{card.ModelId}-{Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)))[..8]}";
    }
}
