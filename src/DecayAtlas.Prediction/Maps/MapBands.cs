namespace DecayAtlas.Prediction.Maps;

/// <summary>What the files of a map hold and say of themselves.</summary>
public static class MapBands
{
    /// <summary>Grows when other files or bytes come of the same model and grids.</summary>
    public const int Version = 3;

    public const string Caution =
        "Modelled from site measurements and gridded covariates; no basis for regulation, fertiliser or carbon-credit decisions.";

    public static IReadOnlyList<GeoTiffBand> Tif { get; } =
    [
        new("decay_rate", "d-1"), new("decay_rate_lower", "d-1"), new("decay_rate_upper", "d-1"), new("dissimilarity", "1"),
            new("applicable", "1", IsFlag: true),
    ];

    internal static IReadOnlyList<NetCdfVariable> NetCdf(ModelCard card)
    {
        string level = Invariant($"{100 * card.Options.IntervalLevel:0.#} %");
        return
        [
            new("decay_rate", "d-1", "predicted decay rate k of the slow litter (median)", Attributes: new Dictionary<string, string>
            {
                ["ancillary_variables"] = "decay_rate_lower decay_rate_upper dissimilarity applicable",
            }),
            new("decay_rate_lower", "d-1", $"lower end of the {level} interval of the true decay_rate of the place"),
            new("decay_rate_upper", "d-1", $"upper end of the {level} interval of the true decay_rate of the place"),
            new("dissimilarity", "1", "dissimilarity index to the training sites (Meyer and Pebesma 2021)"),
            new("applicable", "1", "inside the area of applicability (Meyer and Pebesma 2021)", IsFlag: true),
        ];
    }

    internal static Dictionary<string, string> Provenance(ModelCard card, ClassChoices choices)
    {
        Dictionary<string, string> said = new()
        {
            ["model_id"] = card.ModelId,
            ["release_id"] = card.ReleaseId,
            ["software"] = "DecayAtlas " + card.CodeVersion,
            ["caution"] = Caution,
        };
        if (choices.SentenceFor(card) is { } chosen)
            said["as_if"] = chosen;
        return said;
    }

    /// <summary>GDAL's tags are in capitals.</summary>
    internal static Dictionary<string, string> TifTags(IReadOnlyDictionary<string, string> provenance, string title) =>
        provenance.Append(new("title", title)).ToDictionary(p => p.Key.ToUpperInvariant(), p => p.Value);

    /// <summary>CF asks for title, source, history, references, comment.</summary>
    internal static Dictionary<string, string> NetCdfAttributes(IReadOnlyDictionary<string, string> provenance, string title,
        string source, string history) => new(provenance)
        {
            ["title"] = title,
            ["source"] = source,
            ["history"] = history,
            ["references"] = "Applicability: Meyer and Pebesma 2021, doi:10.1111/2041-210X.13650",
            ["comment"] = Caution,
        };
}
