namespace DecayAtlas.Prediction.Maps;

/// <summary>Says before a model is trained that no map could be drawn of it.</summary>
public static class MapForesight
{
    internal const string NoGridAtAll = "Every covariate of the model is a class that is stated for all places, so that no grid says where "
        + "a map lies; train the model on a grid too.";

    /// <param name="covariates">Those that the model is to learn from; what is of a grid is in the catalogue.</param>
    /// <exception cref="PredictionException">A covariate cannot be mapped, or a class is chosen for none of them.</exception>
    public static void Check(IReadOnlyList<CovariateInfo> covariates, IReadOnlyList<CatalogueEntry> catalogue, ClassChoices choices,
        BurialConditions conditions)
    {
        choices.CheckNames([.. covariates.Where(c => c.IsClass).Select(c => c.Name)], "the model");
        CatalogueEntry[] read =
        [
            .. covariates.Where(c => !c.IsClass || !choices.AsIf.ContainsKey(c.Name)).Select(c => EntryFor(c, catalogue, choices)),
        ];
        if (read.Length == 0)
            throw PredictionException.OfRequest(NoGridAtAll);
        foreach (CatalogueEntry entry in read)
        {
            try
            {
                MapCovariate.RecipeOf(entry, conditions);
            }
            catch (GridException)
            {
                // a file that cannot be read is told by the stage that reads it first
            }
        }
    }

    private static CatalogueEntry EntryFor(CovariateInfo covariate, IReadOnlyList<CatalogueEntry> catalogue, ClassChoices choices) =>
        !covariate.IsStated ? catalogue.First(e => e.Name == covariate.Name)
        : choices.FromGrid.TryGetValue(covariate.Name, out string? grid) ? CovariateMatch.ClassGrid(covariate.Name, grid, catalogue)
        : throw CovariateMatch.NothingTells(covariate.Name, null);
}
