namespace DecayAtlas.Prediction.Maps;

/// <summary>What the files of a map hold and say of themselves.</summary>
public static class MapBands
{
    /// <summary>Grows when other files or bytes come of the same model and grids.</summary>
    public const int Version = 6;

    public const string Caution =
        "Modelled from site measurements and gridded covariates; no basis for regulation, fertiliser or carbon-credit decisions.";

    /// <summary>Where bands lie in every map, from 0.</summary>
    internal const int Value = 0, Lower = 1, Upper = 2, Applicable = 4;

    /// <summary>The tag that tells which classes places are taken for.</summary>
    internal const string AsIf = "as_if";

    private const string HalfLifeBand = "half_life";

    /// <summary>The first five are alike for every target; what only some have follows them.</summary>
    public static IReadOnlyList<GeoTiffBand> Tif(MapQuantity of) =>
    [
        new(of.Band, of.Unit), new(of.Band + "_lower", of.Unit), new(of.Band + "_upper", of.Unit), new("dissimilarity", "1"),
        new("applicable", "1", IsFlag: true),
        .. of.HasHalfLife
            ? [new(HalfLifeBand, "d"), new(HalfLifeBand + "_lower", "d"), new(HalfLifeBand + "_upper", "d")]
            : Array.Empty<GeoTiffBand>(),
    ];

    internal static IReadOnlyList<NetCdfVariable> NetCdf(ModelCard card)
    {
        MapQuantity of = MapQuantity.Of(card.Target);
        string level = Invariant($"{100 * card.Options.IntervalLevel:0.#} %");
        return
        [
            new(of.Band, of.Unit, $"predicted {of.LongName} (median)", Attributes: new Dictionary<string, string>
            {
                ["ancillary_variables"] = $"{of.Band}_lower {of.Band}_upper dissimilarity applicable",
            }),
            new(of.Band + "_lower", of.Unit, $"lower end of the {level} interval of the true {of.Band} of the place"),
            new(of.Band + "_upper", of.Unit, $"upper end of the {level} interval of the true {of.Band} of the place"),
            new("dissimilarity", "1", "dissimilarity index to the training sites (Meyer and Pebesma 2021)"),
            new("applicable", "1", "inside the area of applicability (Meyer and Pebesma 2021)", IsFlag: true),
            .. of.HasHalfLife ? HalfLives(level) : [],
        ];
    }

    private static IReadOnlyList<NetCdfVariable> HalfLives(string level) =>
    [
        new(HalfLifeBand, "d", HalfLife.Meaning, Attributes: new Dictionary<string, string>
        {
            ["ancillary_variables"] = $"{HalfLifeBand}_lower {HalfLifeBand}_upper applicable",
        }),
        new(HalfLifeBand + "_lower", "d", $"lower end of the {level} interval of half_life, ln 2 over the upper end of k"),
        new(HalfLifeBand + "_upper", "d", $"upper end of the {level} interval of half_life, ln 2 over the lower end of k"),
    ];

    internal static Dictionary<string, string> Provenance(ModelCard card, ClassChoices choices) => MapQuantity.Of(card.Target) switch
    {
        { HasHalfLife: true } => new(ProvenanceOf(card, choices)) { ["half_life"] = HalfLife.Meaning },
        _ => ProvenanceOf(card, choices),
    };

    private static Dictionary<string, string> ProvenanceOf(ModelCard card, ClassChoices choices)
    {
        Dictionary<string, string> said = new()
        {
            ["model_id"] = card.ModelId,
            ["release_id"] = card.ReleaseId,
            ["software"] = "DecayAtlas " + card.CodeVersion,
            ["caution"] = Caution,
        };
        if (choices.SentenceFor(card) is { } chosen)
            said[AsIf] = chosen;
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
