namespace DecayAtlas.Pages;

/// <summary>What the pages say of themselves.</summary>
/// <param name="Languages">Codes, the first of which stands at the front; each one of <see cref="Texts.Language.Known"/>.</param>
public sealed record PagesOptions(LocalText Title, string Publisher, IReadOnlyList<string> Languages, ClimateNames Climate);

/// <summary>A campaign file that the check has built in.</summary>
public sealed record BuiltInCampaign(string Name, string Yaml);

/// <summary>All that goes into the pages; what an atlas does not have is missing, and its part of the pages says so.</summary>
/// <param name="Before">The release before it.</param>
/// <param name="SetAside">Contributions that wait for their sender.</param>
/// <param name="ReleaseFolder">Folder of the release, whose files are linked.</param>
/// <param name="CovariateTitles">Names for people of the covariates.</param>
public sealed record PagesInputs(
    ReleaseData Data, ReleaseData? Before, IReadOnlyList<FlagMeaning> FlagMeanings, IReadOnlyList<PublicIntake> SetAside,
    string ReleaseFolder, ModelFolder? Model, string? MapFolder, MapRaster? Raster, IReadOnlyList<double[][][]> Land,
    IReadOnlyDictionary<string, string> CovariateTitles)
{
    /// <summary>Where the files below lie, from the folder of the pages.</summary>
    public const string DownloadFolder = "download/";

    /// <summary>The release as CSV, workbook and GeoPackage; none where it is too large to have them beside its pages.</summary>
    public IReadOnlyList<ExportedFile> Downloads { get; init; } = [];

    /// <summary>What changed since the release before, and why.</summary>
    public ReleaseChanges? Changes { get; init; }

    public BuiltInCampaign? Campaign { get; init; }

    /// <summary>The folder of the model of S.</summary>
    public ModelFolder? StabilisationModel { get; init; }

    /// <summary>The folder of the map of that model.</summary>
    public string? StabilisationMapFolder { get; init; }

    public MapRaster? StabilisationRaster { get; init; }

    /// <summary>The land under the map; missing where no grid has heights.</summary>
    public Relief? Relief { get; init; }

    public IReadOnlyList<NamedPlace> Places { get; init; } = [];

    public JointFacts? Joint { get; init; }

    /// <summary>Missing where the map rests on no noted burials.</summary>
    public MapShiftFacts? MapWithoutNoted { get; init; }

    /// <summary>Classes that every place of the map was taken for.</summary>
    public IReadOnlyList<AsIfFacts> MapAsIf { get; init; } = [];

    public ReleasedAnswers Answers { get; init; } = ReleasedAnswers.None;

    public IReadOnlyList<SeriesFacts> Series { get; init; } = [];

    /// <summary>The release as catalogues know it; missing where it has no descriptor.</summary>
    public ReleaseDescription? Description { get; init; }

    /// <summary>What the curator calls the groups of what waits, by its content hash.</summary>
    public IReadOnlyDictionary<string, string> GroupsOfSetAside { get; init; } = new Dictionary<string, string>();

    /// <summary>What the check guessed of contributions, by id.</summary>
    public IReadOnlyDictionary<string, ToldGuesses> Guesses { get; init; } =
        new Dictionary<string, ToldGuesses>();

    public GivenTitles Titles { get; init; } = GivenTitles.None;

    /// <summary>Standard deviation of ln k between burials of one place, by the id of the campaign that stated it.</summary>
    public IReadOnlyDictionary<string, double> ScatterOfLnK { get; init; } = new Dictionary<string, double>();

    /// <summary>What a flag means; <see langword="null"/> where nobody told.</summary>
    internal FlagMeaning? MeaningOf(string code) => FlagMeanings.FirstOrDefault(m => m.Code == code);

    /// <summary>What the map was made as if, in a sentence for each choice.</summary>
    internal IEnumerable<Markup> SaidOfMap(Language words) => MapAsIf.Select(
        chosen => Markup.Of($"<p "
            + $"class=\"hint\">{words.Rich("map.as-if", CovariateLabel(chosen.Covariate, words), words.Word(chosen.Class))}</p>"));

    /// <summary>Name for people of a covariate, with its unit.</summary>
    internal string CovariateLabel(string name, Language words)
    {
        string title = words.Quoted(CovariateTitles.GetValueOrDefault(name, name));
        string? unit = Data.Covariates.FirstOrDefault(c => c.Covariate == name)?.Unit;
        return unit is null or "" or "1" ? title : $"{title} ({words.Unit(unit)})";
    }
}
