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
    /// <param name="asIf">Classes that places are taken for on the first side, before those of <paramref name="options"/>, and on the
    /// other.</param>
    /// <param name="progress">Told "Difference", tiles done, tiles in all.</param>
    public static DifferenceSummary Run(
        AtlasFolder atlas, MapQuantity of, string catalogue, IReadOnlyList<CatalogueEntry> grids, MapOptions options,
        string? otherCatalogue, string? otherModel,
        (IReadOnlyDictionary<string, string> Before, IReadOnlyDictionary<string, string> After) asIf, string folder,
        Action<string, int, int>? progress)
    {
        IReadOnlyList<CatalogueEntry> other = otherCatalogue is null ? grids
            : ScenarioCatalogue.Of(grids, CatalogueFile.Read(otherCatalogue, grids is [{ Remote: var remote }, ..] ? remote : null),
                otherCatalogue);
        using RateModel model = CurrentModel.Load(atlas, of);
        using RateModel second = CurrentModel.Load(atlas, of, otherModel);
        ClassChoices choices = options.Choices.With(asIf.Before), otherChoices = choices.With(asIf.After);
        Check(asIf.Before, model);
        Check(choices.ChosenFor(model.Card), model);
        Check(asIf.After, second);
        DifferenceSummary summary = DifferenceMap.Make(
            SideOf(SourceOf(model), model, grids, choices),
            SideOf(otherCatalogue is null ? SourceOf(second) : Path.GetFileName(otherCatalogue), second, other, otherChoices),
            options, new MapFiles(Path.Combine(folder, TifName), Path.Combine(folder, NetCdfName), Path.Combine(folder, PngName)),
            progress);
        DurableFile.WriteText(Path.Combine(folder, SummaryName), JsonSerializer.Serialize(summary, JsonText.Options) + "\n");
        return summary;

        // sides are called by what differs: their models where the grids are the same
        string SourceOf(RateModel side) =>
            otherModel is not null && otherCatalogue is null ? $"model {side.Card.ModelId}" : Path.GetFileName(catalogue);
    }

    private static void Check(IReadOnlyDictionary<string, string> chosen, RateModel model)
    {
        try
        {
            new ClassChoices(chosen, ClassChoices.None.FromGrid).Check(model.Card);
        }
        catch (PredictionException e) when (e.IsOfRequest)
        {
            throw new ConfigurationException(e.Message, e);
        }
    }

    private static RateSide SideOf(string source, RateModel model, IReadOnlyList<CatalogueEntry> grids, ClassChoices choices) =>
        new(choices.SentenceFor(model.Card) is { } chosen ? $"{source}, {chosen}" : source, model, grids) { Choices = choices };
}
