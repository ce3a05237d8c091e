using System.Text.Json;

namespace DecayAtlas.Questions.Predictions;

/// <summary>Maps the difference that other grids or another model make.</summary>
public static class DifferenceReport
{
    public const string TifName = "difference.tif", NetCdfName = "difference.nc", PngName = "difference.png",
        SummaryName = "difference.json";

    /// <param name="of">k, compared as a ratio, or S, as a difference.</param>
    /// <param name="atlas">Its current model is what is compared with.</param>
    /// <param name="catalogue">The file of the grids that are compared with.</param>
    /// <param name="otherCatalogue">A catalogue whose entries take the place of those of the same name; null keeps them.</param>
    /// <param name="otherModel">Another model of the atlas; null keeps the current one.</param>
    /// <param name="progress">Told "Difference", tiles done, tiles in all.</param>
    public static DifferenceSummary Run(
        AtlasFolder atlas, MapQuantity of, string catalogue, IReadOnlyList<CatalogueEntry> grids, MapOptions options,
        string? otherCatalogue, string? otherModel, string folder, Action<string, int, int>? progress)
    {
        IReadOnlyList<CatalogueEntry> other = otherCatalogue is null ? grids
            : ScenarioCatalogue.Of(grids, CatalogueFile.Read(otherCatalogue, grids is [{ Remote: var remote }, ..] ? remote : null),
                otherCatalogue);
        using RateModel model = CurrentModel.Load(atlas, of);
        using RateModel second = CurrentModel.Load(atlas, of, otherModel);
        DifferenceSummary summary = DifferenceMap.Make(
            new RateSide(Path.GetFileName(catalogue), model, grids),
            new RateSide(otherCatalogue is null ? $"model {second.Card.ModelId}" : Path.GetFileName(otherCatalogue), second, other),
            options, new MapFiles(Path.Combine(folder, TifName), Path.Combine(folder, NetCdfName), Path.Combine(folder, PngName)),
            progress);
        DurableFile.WriteText(Path.Combine(folder, SummaryName), JsonSerializer.Serialize(summary, JsonText.Options) + "\n");
        return summary;
    }
}
