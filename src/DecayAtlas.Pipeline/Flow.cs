using DecayAtlas.Atlas;
using DecayAtlas.Grids;
using DecayAtlas.Pipeline.Configuration;
using DecayAtlas.Pipeline.Flags;
using DecayAtlas.Pipeline.Runs;
using DecayAtlas.Pipeline.Stages;

namespace DecayAtlas.Pipeline;

/// <summary>
/// The whole flow, in the order in which data passes: each stage takes what those above it made. A stage is added to
/// <see cref="StageNames"/>, to <see cref="FlowResult"/> and to <see cref="Run"/>.
/// </summary>
public static class Flow
{
    /// <summary>Every stage in order; each is also a command.</summary>
    public static IReadOnlyList<string> StageNames { get; } = ["ingest", "index", "snap", "flag", "summarise", "publish", "train", "map"];

    /// <summary>Runs the stages from the first to <paramref name="last"/>; a stage whose section the configuration lacks is passed over.</summary>
    public static FlowResult Run(PipelineConfiguration configuration, IRunObserver observer, string last = "map")
    {
        var atlas = new AtlasFolder(configuration.Atlas);
        var clock = new StageClock(observer);

        IngestStage.Output intake = clock.Run("ingest", p => IngestStage.Run(configuration, p));
        var made = new FlowResult { Timings = clock.Timings, Intake = intake };
        if (last == "ingest")
            return made;

        IndexStage.Output index = clock.Run("index", _ => IndexStage.Run(intake.Contributions, configuration.Assumptions));
        made = made with { Index = index };
        if (last == "index")
            return made;

        IReadOnlyList<CatalogueEntry> catalogue = configuration.Grids is { } grids ? GridCatalogue.Load(grids).Entries : [];
        SnapStage.Output snapped = clock.Run("snap", p => SnapStage.Run(index.Sites, catalogue, p));
        made = made with { Snap = snapped };
        if (last == "snap")
            return made;

        CountryOutlines? countries = configuration.Countries is { } outlines ? CountryOutlines.Load(outlines) : null;
        FlagStage.Output flags = clock.Run("flag", _ => FlagStage.Run(new FlagInputs(
            intake.Contributions, index.Sites, index.Bags, index.Burials, snapped.Values, countries, configuration.Flags)));
        made = made with { Flags = flags };
        if (last == "flag")
            return made;

        SummariseStage.Output summaries = clock.Run("summarise", _ => SummariseStage.Run(index.Burials, flags.Verdicts));
        made = made with { Summaries = summaries };
        if (last == "summarise")
            return made;

        PublishStage.Output published = clock.Run("publish", p => PublishStage.Run(configuration, intake, index, snapped, flags, summaries, p));
        made = made with { Published = published };
        if (last == "publish" || configuration.Train is not { } train)
            return made;

        made = made with { Model = clock.Run("train", p => TrainStage.Run(atlas, train, catalogue, p)) };
        if (last == "train" || configuration.Map is not { } map)
            return made;

        return made with { Map = clock.Run("map", p => MapStage.Run(atlas, map, catalogue, p)) };
    }

    /// <summary>Trains on the current release alone.</summary>
    /// <exception cref="ConfigurationException">The configuration has no section train, or names no grids.</exception>
    public static FlowResult RunTrain(PipelineConfiguration configuration, IRunObserver observer)
    {
        TrainSection train = configuration.Train ?? throw Lacks(configuration, "train");
        IReadOnlyList<CatalogueEntry> catalogue = CatalogueOf(configuration);
        var clock = new StageClock(observer);
        return new FlowResult { Timings = clock.Timings, Model = clock.Run("train", p => TrainStage.Run(new AtlasFolder(configuration.Atlas), train, catalogue, p)) };
    }

    /// <summary>Maps the current model alone.</summary>
    /// <exception cref="ConfigurationException">The configuration has no section map, or names no grids.</exception>
    public static FlowResult RunMap(PipelineConfiguration configuration, IRunObserver observer)
    {
        MapSection map = configuration.Map ?? throw Lacks(configuration, "map");
        IReadOnlyList<CatalogueEntry> catalogue = CatalogueOf(configuration);
        var clock = new StageClock(observer);
        return new FlowResult { Timings = clock.Timings, Map = clock.Run("map", p => MapStage.Run(new AtlasFolder(configuration.Atlas), map, catalogue, p)) };
    }

    private static IReadOnlyList<CatalogueEntry> CatalogueOf(PipelineConfiguration configuration) =>
        GridCatalogue.Load(configuration.Grids ?? throw Lacks(configuration, "grids")).Entries;

    private static ConfigurationException Lacks(PipelineConfiguration configuration, string section) =>
        new($"{configuration.Path} has no section {section}; add it.");
}

/// <summary>What the stages made, as far as they ran.</summary>
public sealed record FlowResult
{
    public required IReadOnlyList<StageTiming> Timings { get; init; }

    public IngestStage.Output? Intake { get; init; }

    public IndexStage.Output? Index { get; init; }

    public SnapStage.Output? Snap { get; init; }

    public FlagStage.Output? Flags { get; init; }

    public SummariseStage.Output? Summaries { get; init; }

    public PublishStage.Output? Published { get; init; }

    public TrainStage.Output? Model { get; init; }

    public MapStage.Output? Map { get; init; }
}
