namespace DecayAtlas.Grids.Catalogue;

/// <summary>A covariate computed from others by a published formula.</summary>
public sealed record Derivation : CovariateMaking
{
    internal Derivation(DerivationRule rule, IReadOnlyDictionary<string, CatalogueEntry> inputs, TimeSpanned over) =>
        (Rule, Inputs, Over) = (rule, inputs, over);

    internal DerivationRule Rule { get; }

    internal TimeSpanned Over { get; }

    public override IReadOnlyDictionary<string, CatalogueEntry> Inputs { get; }

    /// <summary>None of its own: it reads those of its inputs.</summary>
    public override IReadOnlyList<LayerSource> Layers => [];

    public override bool DependsOnBurial => Over == TimeSpanned.Exposure;

    public override string? Formula =>
        $"{Rule.Words}; from {string.Join(", ", Rule.Inputs.Select(i => $"{i.Role} {Inputs[i.Role].Name}"))}";

    public override string Identity => $"derived {Rule.Name} {Over}";

    /// <summary>The same formula over other inputs, each of the unit and kind of the one that it stands for.</summary>
    public Derivation From(IReadOnlyDictionary<string, CatalogueEntry> inputs) => new(Rule, inputs, Over);

    public override CovariateRecipe RecipeFor(BurialConditions conditions) => Over == TimeSpanned.Year
        ? Rule.Recipe(Inputs, null)
        : conditions.Exposure is { Count: > 0 } exposure ? Rule.Recipe(Inputs, exposure) : CovariateRecipe.Missing(RecipeGap.NoDates);
}
