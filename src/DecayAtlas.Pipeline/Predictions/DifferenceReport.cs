using System.Text.Json;

namespace DecayAtlas.Pipeline.Predictions;

/// <summary>Maps the difference that other grids or another model make.</summary>
public static class DifferenceReport
{
    public const string TifName = "difference.tif";
    public const string NetCdfName = "difference.nc";
    public const string PngName = "difference.png";
    public const string SummaryName = "difference.json";

    /// <param name="configuration">Its current model and grids are what is compared with; its section map says where.</param>
    /// <param name="otherCatalogue">A catalogue whose entries take the place of those of the same name; null keeps them.</param>
    /// <param name="otherModel">Another model of the atlas; null keeps the current one.</param>
    /// <param name="folder">Where the files go.</param>
    /// <param name="progress">Told "Difference", tiles done, tiles in all.</param>
    public static DifferenceSummary Run(
        PipelineConfiguration configuration, string? otherCatalogue, string? otherModel, string folder, Action<string, int, int>? progress)
    {
        var atlas = new AtlasFolder(configuration.Atlas);
        IReadOnlyList<CatalogueEntry> grids = Catalogues.Of(configuration);
        IReadOnlyList<CatalogueEntry> other = otherCatalogue is null ? grids : ScenarioCatalogue.Of(grids, Catalogues.Load(otherCatalogue), otherCatalogue);
        using RateModel model = CurrentModel.Load(atlas);
        using RateModel second = otherModel is null ? CurrentModel.Load(atlas) : CurrentModel.Load(atlas, otherModel);
        var section = configuration.Map ?? new MapSection("Decay rate");
        MapOptions options = MapStage.OptionsOf(section with { Title = $"{section.Title}: change" });
        DifferenceSummary summary = DifferenceMap.Make(
            new RateSide(Path.GetFileName(configuration.Grids) ?? "current", model, grids),
            new RateSide(otherCatalogue is null ? $"model {second.Card.ModelId}" : Path.GetFileName(otherCatalogue), second, other),
            options, new MapFiles(Path.Combine(folder, TifName), Path.Combine(folder, NetCdfName), Path.Combine(folder, PngName)), progress);
        DurableFile.WriteText(Path.Combine(folder, SummaryName), JsonSerializer.Serialize(summary, JsonText.Options) + "\n");
        return summary;
    }
}
