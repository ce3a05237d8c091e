namespace DecayAtlas.Pipeline.Configuration;

/// <summary>Everything a run is told, with absolute paths.</summary>
/// <param name="Path">The configuration file.</param>
/// <param name="Atlas">Folder of the atlas.</param>
/// <param name="Inbox">Folder with contributions.</param>
/// <param name="Grids">Grid catalogue, where sites are snapped.</param>
/// <param name="Countries">Country outlines, where countries are checked.</param>
/// <param name="Decisions">The decisions file, where there is one.</param>
/// <param name="Demo">The invented scenario, where one is made.</param>
/// <param name="Limits">What one contribution may cost.</param>
/// <param name="Assumptions">What is assumed when a contribution does not say.</param>
/// <param name="Flags">Limits of the flags.</param>
/// <param name="Title">Title of the released data set.</param>
/// <param name="Publisher">Who publishes it.</param>
/// <param name="Train">The model, where one is trained.</param>
/// <param name="Map">The map, where one is drawn.</param>
public sealed record PipelineConfiguration(
    string Path,
    string Atlas,
    string Inbox,
    string? Grids,
    string? Countries,
    string? Decisions,
    DemoSection? Demo,
    IntakeLimits Limits,
    MeasurementAssumptions Assumptions,
    FlagOptions Flags,
    string Title,
    string Publisher,
    TrainSection? Train,
    MapSection? Map)
{
    /// <summary>How much of the soil a bag fills from top to bottom, its middle at the stated depth (cm).</summary>
    public double BagHeightCentimetres { get; init; } = BurialConditions.UsualBagHeightCentimetres;

    /// <summary>The pages, where they are made.</summary>
    public PagesSection? Pages { get; init; }

    /// <summary>Season and depth that predictions are for where who asks names none: those of the map.</summary>
    public BurialConditions Conditions => Map?.Conditions ?? BurialConditions.None;

    /// <summary>The grid catalogue, for those who can't do without.</summary>
    /// <exception cref="ConfigurationException">There is none.</exception>
    public string GridsToPredictFrom => Grids ?? throw new ConfigurationException($"{Path} names no grid catalogue, which a prediction needs; add grids.");
}

/// <summary>Where the invented scenario lies, its seed, and whether its faults come in steps of size.</summary>
public sealed record DemoSection(string Folder, int Seed, bool IsGraded);

/// <summary>Which covariates the model uses, in this order, and how it is trained.</summary>
public sealed record TrainSection(IReadOnlyList<string> Covariates, TrainingOptions Options)
{
    /// <summary>What models are trained of; k always.</summary>
    public IReadOnlyList<PredictionTarget> Targets { get; init; } = [PredictionTarget.DecayRate];
}

/// <summary>What the map shows.</summary>
/// <param name="Title">Heading of the picture, title of the files.</param>
public sealed record MapSection(string Title)
{
    /// <summary>Where; with neither box nor polygons the extent that all covariates share.</summary>
    public BoundingBox? Box { get; init; }

    /// <summary>A GeoJSON file: only cells whose centres lie in its polygons are mapped.</summary>
    public string? Polygons { get; init; }

    /// <summary>Reference system, a code or well-known text; that of the finest covariate where there is none.</summary>
    public string? Crs { get; init; }

    /// <summary>Side of a cell in the unit of the reference system; the cells of the finest covariate where there is none.</summary>
    public double? CellSize { get; init; }

    /// <summary>Season and depth that the map is for.</summary>
    public BurialConditions Conditions { get; init; } = BurialConditions.None;

    /// <summary>A GeoJSON file of polygons to summarise the map over.</summary>
    public string? Regions { get; init; }

    /// <summary>Property of those polygons that names them.</summary>
    public string? RegionName { get; init; }
}

/// <summary>What the pages of a release say of themselves; names of covariates are missing where the pages shall find them.</summary>
public sealed record PagesSection(string Title, IReadOnlyList<string> Languages, string? Temperature, string? Precipitation);
