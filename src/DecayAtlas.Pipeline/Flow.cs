namespace DecayAtlas.Pipeline;

/// <summary>
/// The whole flow, in the order in which data passes: each stage takes what those above it made. Index, flag and summarise are steps of
/// one chain a contributor (<see cref="ContributorWork"/>), run by the stage compute for those whose inputs changed; cross-check then
/// holds the contributors against one another.
/// </summary>
public static class Flow
{
    /// <summary>Every stage in order; each is also a command.</summary>
    public static IReadOnlyList<string> StageNames { get; } = ["ingest", "snap", "compute", "cross-check", "publish", "train", "map",
        "pages"];

    /// <summary>
    /// Runs the stages from the first to <paramref name="last"/>, or all; train, map and pages are run alone. A stage whose section the
    /// configuration lacks is passed over. The run holds the atlas for itself and leaves a record in it.
    /// </summary>
    /// <param name="expectedBroken">Names in the inbox that are broken on purpose, in a demo: finding just those needs nobody.</param>
    /// <exception cref="FailedRunException">A stage failed; what the run did before that is in its record.</exception>
    /// <exception cref="AtlasBusyException">Another run holds the atlas.</exception>
    public static (FlowResult Result, RunRecord Record) Execute(
        PipelineConfiguration configuration, IRunObserver observer, string last, IReadOnlySet<string>? expectedBroken = null) =>
        Execute(configuration, observer, last, expectedBroken, contribution => contribution);

    /// <param name="passing">Every contribution goes through it on its way to be computed.</param>
    internal static (FlowResult Result, RunRecord Record) Execute(
        PipelineConfiguration configuration, IRunObserver observer, string last, IReadOnlySet<string>? expectedBroken,
        Func<Contribution, Contribution> passing) =>
        RecordedRun.Of(configuration, observer, expectedBroken, (clock, made) => Run(configuration, clock, made, last, passing));

    private static void Run(
        PipelineConfiguration configuration, StageClock clock, FlowResult made, string last, Func<Contribution, Contribution> passing)
    {
        AtlasFolder atlas = new(configuration.Atlas);
        // a wrong catalogue, mapping of words or map is told before anything is taken in or trained
        IReadOnlyList<CatalogueEntry> catalogue = SharedInputs.CatalogueOf(configuration);
        VocabularyFile.Of(configuration);
        if (last is "all" or "train" && configuration is { Map: { } asked, Train: { } toTrain })
            MapStage.Foresee(asked, toTrain, catalogue);
        switch (last)
        {
            case "train":
                Train(configuration.Train ?? throw Lacks());
                return;
            case "map":
                Map(configuration.Map ?? throw Lacks(), configuration.Train!);
                return;
            case "pages":
                Pages(configuration.Pages ?? throw Lacks());
                return;
        }

        // what is just read need not be parsed again to be computed; with the rest of a run 256 MiB stay well below a gibibyte
        KeptInMemory<Contribution> justRead = new(256L << 20);
        made.Intake = clock.Run("ingest", p => IngestStage.Run(configuration, p, justRead));
        ReleaseWitness witness = IngestStage.RequireNothingLost(configuration);   // told in seconds, before anything is computed
        if (last == "ingest")
            return;

        ComputeStage compute = new(configuration, witness, justRead, passing);
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

        if (last != "all")
            return;
        if (configuration.Train is { } train)
        {
            Train(train);
            if (configuration.Map is { } map)
                Map(map, train);
        }

        if (configuration.Pages is { } pages)
            Pages(pages);

        bool GoesOut()
        {
            try
            {
                CrossCheckStage.Output crossChecked = made.CrossChecked =
                    clock.Run("cross-check", p => CrossCheckStage.Run(configuration, compute, computed, p));
                if (last != "cross-check")
                    made.Published = clock.Run("publish", p => PublishStage.Run(configuration, compute, computed, crossChecked, p));
                return true;
            }
            catch (Exception thrown) when (ContributorFailedException.In(thrown) is { } failed)
            {
                made.Computed = computed = computed.Without(failed);
                return false;
            }
        }

        void Train(TrainSection section)
        {
            made.Model = clock.Run("train", p => TrainStage.Run(atlas, section, catalogue, p));
            made.ModelChanges = ModelChange.Of(atlas, made);
        }

        void Map(MapSection section, TrainSection train)
        {
            made.Map = clock.Run("map", p => MapStage.Run(atlas, section, train, catalogue, p));
            made.ModelChanges = ModelChange.Of(atlas, made);
        }

        void Pages(PagesSection section) => made.Pages = clock.Run("pages", p => PagesStage.Run(configuration, section, catalogue, p));

        ConfigurationException Lacks() => new($"{configuration.Path} has no section {last}; add it.");
    }
}
