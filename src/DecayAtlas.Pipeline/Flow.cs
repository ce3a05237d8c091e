namespace DecayAtlas.Pipeline;

/// <summary>
/// The whole flow, in the order in which data passes: each stage takes what those above it made. Index, flag and summarise are
/// one chain a contributor (<see cref="ContributorWork"/>), run by the stage compute for those whose inputs changed; cross-check then
/// holds the contributors against one another.
/// </summary>
public static class Flow
{
    /// <summary>Every stage in order; each is also a command.</summary>
    public static IReadOnlyList<string> StageNames { get; } = ["ingest", "snap", "compute", "cross-check", "publish", "train", "map", "pages"];

    /// <summary>Runs the stages from the first to <paramref name="last"/>; a stage whose section the configuration lacks is passed over.</summary>
    /// <param name="made">Filled as the stages end, so that a failed run can still tell what it did.</param>
    public static void Run(PipelineConfiguration configuration, StageClock clock, FlowResult made, string last = "pages") =>
        Run(configuration, clock, made, last, null);

    /// <param name="passing">Every contribution goes through it on its way to be computed.</param>
    internal static void Run(PipelineConfiguration configuration, StageClock clock, FlowResult made, string last, Func<Contribution, Contribution>? passing)
    {
        var atlas = new AtlasFolder(configuration.Atlas);
        // a wrong catalogue is told before anything is taken in
        IReadOnlyList<CatalogueEntry> catalogue = SharedInputs.CatalogueOf(configuration);

        var handOver = new HandOver(HandOver.DefaultBytes);
        made.Intake = clock.Run("ingest", p => IngestStage.Run(configuration, p, handOver));
        IngestStage.RequireNothingLost(configuration);   // told in seconds, before anything is computed
        if (last == "ingest")
            return;

        var compute = ComputeStage.Prepare(configuration, handOver, passing);
        clock.Run("snap", compute.Snap);
        if (last == "snap")
            return;

        ComputeStage.Output computed = made.Computed = clock.Run("compute", compute.Run);
        if (last == "compute")
            return;

        while (!GoesOut())
        {
            // a contributor that fails under way is left out, and the others go round again
        }

        if (last is "cross-check" or "publish")
            return;

        if (configuration.Train is { } train)
        {
            made.Model = clock.Run("train", p => TrainStage.Run(atlas, train, catalogue, p));
            if (last == "train")
                return;
            if (configuration.Map is { } map)
                made.Map = clock.Run("map", p => MapStage.Run(atlas, map, train, catalogue, p));
        }

        if (last == "pages" && configuration.Pages is { } pages)
            made.Pages = clock.Run("pages", p => PagesStage.Run(configuration, pages, catalogue, p));

        bool GoesOut()
        {
            try
            {
                CrossCheckStage.Output crossChecked = clock.Run("cross-check", p => CrossCheckStage.Run(configuration, compute, computed, p));
                made.CrossChecked = crossChecked;
                if (last != "cross-check")
                    made.Published = clock.Run("publish", p => PublishStage.Run(configuration, compute, computed, crossChecked, p));
                return true;
            }
            catch (Exception thrown) when (ContributorFailedException.In(thrown) is { } failed)
            {
                made.Computed = computed = ComputeStage.Without(computed, failed);
                return false;
            }
        }
    }

    /// <summary>Trains on the current release alone.</summary>
    /// <exception cref="ConfigurationException">The configuration has no section train.</exception>
    public static void RunTrain(PipelineConfiguration configuration, StageClock clock, FlowResult made)
    {
        TrainSection train = configuration.Train ?? throw Lacks(configuration, "train");
        made.Model = clock.Run("train", p => TrainStage.Run(new AtlasFolder(configuration.Atlas), train, SharedInputs.CatalogueOf(configuration), p));
    }

    /// <summary>Maps the current model alone.</summary>
    /// <exception cref="ConfigurationException">The configuration has no section map.</exception>
    public static void RunMap(PipelineConfiguration configuration, StageClock clock, FlowResult made)
    {
        MapSection map = configuration.Map ?? throw Lacks(configuration, "map");
        made.Map = clock.Run("map", p => MapStage.Run(new AtlasFolder(configuration.Atlas), map, configuration.Train!, SharedInputs.CatalogueOf(configuration), p));
    }

    /// <summary>Makes the pages of the current release alone.</summary>
    /// <exception cref="ConfigurationException">The configuration has no section pages.</exception>
    public static void RunPages(PipelineConfiguration configuration, StageClock clock, FlowResult made)
    {
        PagesSection pages = configuration.Pages ?? throw Lacks(configuration, "pages");
        made.Pages = clock.Run("pages", p => PagesStage.Run(configuration, pages, SharedInputs.CatalogueOf(configuration), p));
    }

    private static ConfigurationException Lacks(PipelineConfiguration configuration, string section) =>
        new($"{configuration.Path} has no section {section}; add it.");
}

/// <summary>What the stages made, as far as they ran.</summary>
public sealed class FlowResult
{
    public IngestStage.Output? Intake { get; set; }

    public ComputeStage.Output? Computed { get; set; }

    public CrossCheckStage.Output? CrossChecked { get; set; }

    public PublishStage.Output? Published { get; set; }

    public TrainStage.Output? Model { get; set; }

    public MapStage.Output? Map { get; set; }

    public PagesStage.Output? Pages { get; set; }
}
