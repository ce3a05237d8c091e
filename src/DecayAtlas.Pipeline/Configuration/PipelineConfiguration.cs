namespace DecayAtlas.Pipeline.Configuration;

/// <summary>Everything a run is told, with absolute paths.</summary>
public sealed record PipelineConfiguration
{
    public required string Path { get; init; }

    [Setting("atlas", "the folder of the atlas; made when it is not there", IsPath = true, IsRequired = true)]
    public string Atlas { get; init; } = "";

    [Setting("inbox", "the folder whose sub-folders and files are contributions", IsPath = true, IsRequired = true)]
    public string Inbox { get; init; } = "";

    [Setting("grids", "a grid catalogue; without it nothing is snapped", IsPath = true)]
    public string? Grids { get; init; }

    [Setting("countries", "a GeoJSON file of country outlines with a property country_code; without it the country is not checked",
        IsPath = true)]
    public string? Countries { get; init; }

    [Setting("decisions", "a file of decisions (schemas/decisions-v1.schema.json)", IsPath = true)]
    public string? Decisions { get; init; }

    [Setting("vocabulary",
        "a file that maps words of senders to ours (schemas/vocabulary-v1.schema.json); without it words that are not ours stay as sent",
        IsPath = true)]
    public string? Vocabulary { get; init; }

    [Setting("campaigns", "a list of campaign files (schemas/campaign-v1.schema.json)",
        "Campaign files, for the titles and languages of groups on pages and in mails", Item = "the path of a campaign file",
        IsPath = true)]
    internal IReadOnlyList<string> CampaignPaths { get; init; } = [];

    /// <summary>The campaigns of those files.</summary>
    public IReadOnlyList<Campaign> Campaigns { get; init; } = [];

    /// <summary>What groups are called, by their ids: a group of two campaigns by the first that gives it a title.</summary>
    public IReadOnlyDictionary<string, string> GroupTitles => Campaigns.SelectMany(c => c.Groups).Where(g => g.Title is not null)
        .DistinctBy(g => g.Id).ToDictionary(g => g.Id, g => g.Title!, StringComparer.Ordinal);

    [Setting("release/title", "the title of the released data set")]
    public string Title { get; init; } = "Litter-bag decomposition atlas";

    [Setting("release/publisher", "who publishes the release")]
    public string Publisher { get; init; } = UnnamedPublisher;

    [Setting("release/citation",
        "a CITATION.cff (Citation File Format 1.2.0) of the data over all releases: who made it, in which words to cite it, keywords, DOI; "
        + "its title is that of the release. Version and licences are those of each release",
        IsPath = true)]
    internal string? CitationPath { get; init; }

    /// <summary>What that file says.</summary>
    public Citation? Citation { get; init; }

    /// <summary>Whoever publishes and has given no name.</summary>
    public const string UnnamedPublisher = "The campaign";

    [Setting("assumptions/bag_height_cm",
        "how much of the soil a bag fills from top to bottom, its middle at the stated depth: cm, 0 to 100", Least = 0, Most = 100)]
    public double BagHeightCentimetres { get; init; } = BurialConditions.UsualBagHeightCentimetres;

    public DemoSection? Demo { get; init; }

    public IntakeLimits Limits { get; init; } = IntakeLimits.Default;

    public MeasurementAssumptions Assumptions { get; init; } = MeasurementAssumptions.Default;

    public IReadOnlyList<FlagDefinition> Flags { get; init; } = FlagCatalogue.All;

    public QuestionsSection Answers { get; init; } = new();

    public TrainSection? Train { get; init; }

    public MapSection? Map { get; init; }

    public PagesSection? Pages { get; init; }

    public MailsSection Mails { get; init; } = new();

    /// <summary>What a run may read over the network.</summary>
    public RemoteGrids Remote { get; init; } = RemoteGrids.None;

    /// <summary>Season and depth that predictions are for where who asks names none: those of the map.</summary>
    public BurialConditions Conditions => Map?.Conditions ?? BurialConditions.None;

    /// <summary>How classes come to places that predictions are for where who asks names none: as on the map.</summary>
    public ClassChoices Choices => Map?.Choices ?? ClassChoices.None;

    /// <summary>The grid catalogue, for those who can't do without.</summary>
    /// <exception cref="ConfigurationException">There is none.</exception>
    public string GridsToPredictFrom => Grids
        ?? throw new ConfigurationException($"{Path} names no grid catalogue, which a prediction needs; add grids.");
}

public sealed record DemoSection
{
    [Setting("folder", "the folder that the invented files are written to", IsPath = true, IsRequired = true)]
    public string Folder { get; init; } = "";

    [Setting("seed", "a whole number, 0 or more", "Seed of everything invented", Least = 0, IsRequired = true)]
    public int Seed { get; init; }

    [Setting("faults", "every (a few of each kind, the default) or graded (only those that show among others, in steps of size)",
        Words = ["every", "graded"])]
    public string Faults { get; init; } = "every";

    public bool IsGraded => Faults == "graded";
}

/// <summary>What questions are asked of.</summary>
public sealed record QuestionsSection
{
    internal const string Kinds = "weighed, summarised or reported";

    [Setting("evidence", "a list of kinds of evidence: weighed, summarised, reported",
        "Kinds of evidence that answers are made of; weighed and summarised where nothing is said", Item = Kinds,
        Words = ["weighed", "summarised", "reported"])]
    internal IReadOnlyList<string> EvidenceNames { get; init; } = [];

    public EvidenceChoice Evidence => EvidenceChoice.Of(EvidenceNames);

    [Setting("warmth_with", "a list of covariate names, each once",
        "Further covariates that the released response to warmth is told at equal values of, beside moisture; what goes with warmth and "
        + "is not named is in its number", Item = "the name of a covariate")]
    public IReadOnlyList<string> WarmthWith { get; init; } = [];
}

/// <summary>What the model learns from, and how.</summary>
public sealed record TrainSection
{
    [Setting("covariates", "a list of covariate names, each once",
        "Covariates of the model, in this order: grids of the catalogue, numbers or classes, and what sites state: ecosystem, land_use or "
        + "management; where a name is both write grid:ecosystem or stated:ecosystem",
        Item = "the name of a covariate", IsRequired = true)]
    public IReadOnlyList<string> Covariates { get; init; } = [];

    [Setting("targets", "what models are trained of: decay_rate (always) and stabilisation",
        Item = "decay_rate or stabilisation", Words = ["decay_rate", "stabilisation"])]
    public IReadOnlyList<string> TargetNames { get; init; } = [];

    [Setting("evidence", "a list of kinds of evidence: weighed, summarised, reported",
        "Kinds of evidence that the model learns from; weighed and summarised where nothing is said", Item = QuestionsSection.Kinds,
        Words = ["weighed", "summarised", "reported"])]
    public IReadOnlyList<string> EvidenceNames { get; init; } = [];

    public EvidenceChoice Evidence => EvidenceChoice.Of(EvidenceNames);

    public TrainingOptions Options { get; init; } = new();

    public IReadOnlyList<PredictionTarget> Targets => TargetNames.Contains("stabilisation")
        ? [PredictionTarget.DecayRate, PredictionTarget.Stabilisation]
        : [PredictionTarget.DecayRate];
}

/// <summary>What the map shows. The name of a map comes from the public properties, so that what else is written is internal.</summary>
public sealed record MapSection
{
    [Setting("title", "a heading of the picture and title of the files")]
    public string Title { get; init; } = "Decay rate";

    [Setting("title_stabilisation", "a heading of the map of S, where train.targets asks for one")]
    internal string StabilisationTitle { get; init; } = "Stabilisation factor S, predicted";

    [Setting("title_joint", "a heading of the picture of k and S together")]
    internal string JointTitle { get; init; } = "Decay rate and stabilisation together";

    [Setting("bbox", "four numbers: west, south, east, north in degrees; west above east goes over the antimeridian",
        "Where; with neither box nor polygons the extent that all covariates share", Numbers = 4)]
    internal IReadOnlyList<double>? Sides { get; init; }

    public BoundingBox? Box => Sides is [var west, var south, var east, var north] ? new(west, south, east, north) : null;

    [Setting("polygons", "a GeoJSON file of polygons; only cells whose centres lie in one are mapped", IsPath = true)]
    public string? Polygons { get; init; }

    [Setting("crs", "a reference system, as EPSG:3035, or well-known text; that of the finest covariate where it is left out")]
    public string? Crs { get; init; }

    [Setting("cell_size", "the side of a cell, above 0, in the unit of crs",
        "Side of a cell; the cells of the finest covariate where there is none", Above = 0)]
    public double? CellSize { get; init; }

    [Setting("buried_on", "a day, as 2024-04-15: the first of the season that the map is for")]
    internal DateOnly? BuriedOn { get; init; }

    [Setting("retrieved_on", "a day, as 2024-07-15: the end of the season that the map is for")]
    internal DateOnly? RetrievedOn { get; init; }

    [Setting("depth_cm", "centimetres, 0 to 1000: the depth that the map is for", Least = 0, Most = 1000)]
    internal double? DepthCentimetres { get; init; }

    [Setting("as_if", "the class that every place is taken for, by covariate, as { management: organic }",
        "Classes that the map, its regions and predictions are made for, where no grid tells what sites state; a class grid may be "
        + "overruled so too", Item = "a class")]
    internal IReadOnlyDictionary<string, string> AsIf { get; init; } = ClassChoices.None.AsIf;

    [Setting("from_grid", "the class grid that tells it, by covariate, as { land_use: land_cover }",
        "Where what sites state comes from on a map: a class grid of the catalogue whose classes are called as the sites call them",
        Item = "the name of a class grid")]
    internal IReadOnlyDictionary<string, string> FromGrid { get; init; } = ClassChoices.None.FromGrid;

    public ClassChoices Choices => new(AsIf, FromGrid);

    internal double BagHeightCentimetres { get; init; } = BurialConditions.UsualBagHeightCentimetres;

    public BurialConditions Conditions => new(
        BuriedOn is { } from && RetrievedOn is { } to ? new ExposureDays(from, to) : null, DepthCentimetres, BagHeightCentimetres);

    [Setting("regions", "a GeoJSON file of polygons to summarise the map over", IsPath = true)]
    public string? Regions { get; init; }

    [Setting("region_name", "the property that names those polygons")]
    public string? RegionName { get; init; }
}

/// <summary>What the pages of a release say of themselves; names of covariates are missing where the pages shall find them.</summary>
public sealed record PagesSection
{
    [Setting("on", "true or false; true where nothing is said")]
    public bool On { get; init; } = true;

    [Setting("title", "a text, or one by language, as { en: ..., es: ... }; that of the release where none is given", "Title of the pages",
        Item = "the title in that language")]
    public LocalText Title { get; init; } = "";

    [Setting("languages", "a list of language codes, the first at the front: en, de",
        "Languages of the pages; all that are known where none is given",
        Item = "the code of a language")]
    public IReadOnlyList<string> Languages { get; init; } = [];

    [Setting("address", "the address under which the folder of the pages can be opened, as https://soil.example/atlas/",
        "Where the pages will lie, so that mails can name the page of a group")]
    public string? Address { get; init; }

    [Setting("download_rows", "a whole number, 0 or more",
        "Up to so many rows of all tables together the release lies beside its pages as CSV, workbook, GeoPackage and archive; 0 for never",
        Least = 0)]
    public int DownloadRows { get; init; } = 500_000;

    [Setting("temperature", "the covariate that says how warm a site is")]
    public string? Temperature { get; init; }

    [Setting("precipitation", "the covariate that says how much rain falls")]
    public string? Precipitation { get; init; }

    [Setting("relief", "the covariate of heights above the sea, in m",
        "Heights that shade the land of the map page and draw its coast: where there is no height above 0 there is water; the first in m "
        + "that is called elevation or height where none is given")]
    public string? Relief { get; init; }
}

/// <summary>Drafts of mails to senders.</summary>
public sealed record MailsSection
{
    [Setting("on", "true or false; true where nothing is said")]
    public bool On { get; init; } = true;

    [Setting("reminder_days", "whole days, 1 to 3650",
        "How long something may wait for its sender before a reminder is drafted, once", Least = 1, Most = 3650)]
    public int ReminderDays { get; init; } = 21;
}
