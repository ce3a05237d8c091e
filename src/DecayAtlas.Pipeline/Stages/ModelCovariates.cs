namespace DecayAtlas.Pipeline.Stages;

/// <summary>What the names in train.covariates stand for: a grid of the catalogue, or a word that sites state.</summary>
internal static class ModelCovariates
{
    private const string Grid = "grid:", Stated = "stated:";

    /// <exception cref="ConfigurationException">A name is neither, or both.</exception>
    public static CovariateInfo[] Of(IReadOnlyList<string> names, IReadOnlyList<CatalogueEntry> catalogue) =>
        [.. names.Select(name => Of(name, catalogue))];

    private static CovariateInfo Of(string name, IReadOnlyList<CatalogueEntry> catalogue)
    {
        bool isGrid = name.StartsWith(Grid, StringComparison.Ordinal), isStated = name.StartsWith(Stated, StringComparison.Ordinal);
        string bare = isGrid ? name[Grid.Length..] : isStated ? name[Stated.Length..] : name;
        CatalogueEntry? entry = isStated ? null : catalogue.FirstOrDefault(e => e.Name == bare);
        StatedWord? word = isGrid ? null : StatedWord.Find(bare);
        return (entry, word) switch
        {
            (not null, not null) => throw new ConfigurationException($"The model asks for covariate {name}, which is a grid of the "
                + $"catalogue and a word that sites state; write {Grid}{name} or {Stated}{name} in train.covariates."),
            (not null, null) => new CovariateInfo(entry.Name, entry.Unit, entry.Title) { IsClass = entry.IsClass },
            (null, not null) => new CovariateInfo(word.Name, "", word.Title) { IsClass = true, IsStated = true },
            _ when isStated => throw new ConfigurationException($"The model asks for covariate {name}, and sites state no {bare}; they "
                + "state "
                + $"{string.Join(", ", StatedWord.All.Select(w => w.Name))}."),
            _ => throw new ConfigurationException($"The model asks for covariate {bare}, which the grid catalogue does not have; "
                + "add it there or take it out of train.covariates."),
        };
    }
}
