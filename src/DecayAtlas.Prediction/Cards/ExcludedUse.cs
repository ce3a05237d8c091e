namespace DecayAtlas.Prediction.Cards;

/// <summary>What a model must not be used for.</summary>
/// <param name="Code">By which pages say it in other languages.</param>
public sealed record ExcludedUse(string Code, string Sentence)
{
    public static IReadOnlyList<ExcludedUse> All { get; } =
    [
        new("regulation", "Regulation, permits or enforcement: a modelled rate is no measurement of any one place."),
        new("fertiliser", "Fertiliser or manure decisions: the litters are standard materials, not crop residues or soil organic matter."),
        new("carbon-credits",
            "Carbon credits or carbon accounting: decay of a standard litter over months says nothing about carbon stored over decades."),
        new("beyond-training", "Places whose covariates lie outside the training ranges, or seasons and years unlike the ones trained on."),
        new("single-field", "Decisions about one field, garden or plot: the grids are far coarser than the differences within a site."),
    ];
}
