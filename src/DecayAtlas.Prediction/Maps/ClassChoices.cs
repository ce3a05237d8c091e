namespace DecayAtlas.Prediction.Maps;

/// <summary>How the classes of a model come to places where nobody states them.</summary>
/// <param name="AsIf">The class that every place is taken for, by covariate: as if organic.</param>
/// <param name="FromGrid">The class grid that tells what sites state, by covariate.</param>
public sealed record ClassChoices(IReadOnlyDictionary<string, string> AsIf, IReadOnlyDictionary<string, string> FromGrid)
{
    public static ClassChoices None { get; } = new(new Dictionary<string, string>(), new Dictionary<string, string>());

    /// <summary>These, with other classes for some covariates.</summary>
    public ClassChoices With(IReadOnlyDictionary<string, string> asIf) => asIf.Count == 0 ? this
        : this with { AsIf = AsIf.Where(c => !asIf.ContainsKey(c.Key)).Concat(asIf).ToDictionary(StringComparer.Ordinal) };

    /// <summary>As if management is organic; nothing where no class is chosen. As the model spells it.</summary>
    public string? SentenceFor(ModelCard card) => ChosenFor(card) is { Count: > 0 } chosen ? Sentence(chosen) : null;

    /// <summary>As if management is organic.</summary>
    /// <param name="chosen">Classes by covariate.</param>
    public static string Sentence(IReadOnlyDictionary<string, string> chosen) =>
        $"as if {string.Join(" and ", chosen.OrderBy(c => c.Key, StringComparer.Ordinal).Select(c => $"{c.Key} is {c.Value}"))}";

    /// <summary>The same at the beginning of a line of a picture.</summary>
    internal static string Heading(IReadOnlyDictionary<string, string>? chosen) =>
        chosen is null ? "" : $"A{Sentence(chosen)[1..]} · ";

    /// <summary>Those that a map was made by, whatever these say by now; of class grids these, where no map tells its own.</summary>
    public ClassChoices AsOf(MapSummary map) => new(map.AsIf ?? None.AsIf, map.FromGrid ?? FromGrid);

    /// <summary>The class grid that each covariate of the model is taken from, where places state it and no class is chosen.</summary>
    internal IReadOnlyDictionary<string, string> GridsFor(ModelCard card) => card.Covariates
        .Where(c => c is { Classes: not null, IsStated: true } && !AsIf.ContainsKey(c.Name) && FromGrid.ContainsKey(c.Name))
        .ToDictionary(c => c.Name, c => FromGrid[c.Name], StringComparer.Ordinal);

    /// <summary>The chosen class of each covariate of the model, as the model spells it.</summary>
    public IReadOnlyDictionary<string, string> ChosenFor(ModelCard card) => card.Covariates
        .Where(c => c.Classes is not null && AsIf.ContainsKey(c.Name)).ToDictionary(c => c.Name, NameIn, StringComparer.Ordinal);

    /// <exception cref="PredictionException">A choice is of no class of the model, or of a class that it never saw.</exception>
    public void Check(ModelCard card)
    {
        CheckNames([.. card.Covariates.Where(c => c.Classes is not null).Select(c => c.Name)], $"the model {card.ModelId}");
        foreach (CardCovariate covariate in card.Covariates.Where(c => c.Classes is not null && AsIf.ContainsKey(c.Name)))
            PlaceOf(covariate);
    }

    /// <param name="classes">The covariates of a model that are classes.</param>
    /// <param name="model">What it is called.</param>
    /// <exception cref="PredictionException">A choice is of none of them.</exception>
    internal void CheckNames(IReadOnlyList<string> classes, string model)
    {
        if (AsIf.Keys.Concat(FromGrid.Keys).FirstOrDefault(name => !classes.Contains(name)) is { } unknown)
        {
            throw PredictionException.OfRequest($"A class is chosen for {unknown}, which is no class of {model}; its "
                + (classes.Count == 0 ? "covariates are all numbers." : $"classes are {string.Join(", ", classes)}."));
        }
    }

    /// <summary>The place of the chosen class; missing where none is chosen.</summary>
    /// <exception cref="PredictionException">The model never saw it.</exception>
    public int? PlaceOf(CardCovariate covariate)
    {
        if (!AsIf.TryGetValue(covariate.Name, out string? chosen))
            return null;
        int place = covariate.Classes!.PlaceOf(chosen);
        return place >= 0 ? place : throw PredictionException.OfRequest($"{covariate.Name} is to be {chosen}, a class that the model never "
            + $"saw; it knows {covariate.Classes.Choice}.");
    }

    /// <summary>Every choice in words, which stand for all of it.</summary>
    public override string ToString() => string.Join(", ",
        AsIf.OrderBy(c => c.Key, StringComparer.Ordinal).Select(c => $"{c.Key} as if {c.Value}")
            .Concat(FromGrid.OrderBy(c => c.Key, StringComparer.Ordinal).Select(c => $"{c.Key} from {c.Value}")));

    private string NameIn(CardCovariate covariate) =>
        covariate.Classes!.PlaceOf(AsIf[covariate.Name]) is var at and >= 0 ? covariate.Classes.Names[at] : AsIf[covariate.Name];
}
