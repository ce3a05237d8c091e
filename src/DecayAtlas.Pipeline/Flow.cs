using System.Diagnostics;
using DecayAtlas.Atlas;
using DecayAtlas.Atlas.Records;
using DecayAtlas.Atlas.Releases;
using DecayAtlas.Contributions;
using DecayAtlas.Grids;
using DecayAtlas.Pipeline.Configuration;
using DecayAtlas.Pipeline.Flags;
using DecayAtlas.Pipeline.Runs;
using DecayAtlas.Pipeline.Stages;

namespace DecayAtlas.Pipeline;

/// <summary>
/// The whole flow, in the order in which data passes: each stage takes what those above it made. A stage is added here,
/// and in <see cref="StageNames"/>.
/// </summary>
public static class Flow
{
    /// <summary>Every stage in order; each is also a command.</summary>
    public static IReadOnlyList<string> StageNames { get; } = ["ingest", "index", "snap", "flag", "summarise", "publish", "train", "map"];

    /// <summary>Runs the stages up to and including <paramref name="last"/>, which is all of them by default.</summary>
    public static FlowResult Run(PipelineConfiguration configuration, IRunObserver observer, string last = "map")
    {
        var timer = new StageTimer(observer);
        var atlas = new AtlasFolder(configuration.Atlas);
        int depth = StageNames.ToList().IndexOf(last);
        bool Reaches(string stage) => StageNames.ToList().IndexOf(stage) <= depth;

        IngestStage.Output intake = timer.Time("ingest", p => IngestStage.Run(configuration, p),
            x => $"{x.Taken.Count(t => t.Outcome == IntakeOutcome.Accepted)} accepted, {x.Taken.Count(t => t.Outcome == IntakeOutcome.Quarantined)} quarantined, {x.Contributions.Count} active");
        var result = new FlowResult { Intake = intake };

        if (Reaches("index"))
        {
            result = result with
            {
                Index = timer.Time("index", _ => IndexStage.Run(intake.Contributions, configuration.Assumptions),
                    x => $"{x.Burials.Count(b => b.RatePerDay.Value is not null)} of {x.Burials.Count} burials have a k"),
            };
        }

        IReadOnlyList<CatalogueEntry> catalogue = configuration.Grids is null ? [] : GridCatalogue.Load(configuration.Grids).Entries;
        if (Reaches("snap"))
        {
            result = result with
            {
                Covariates = timer.Time("snap", p => SnapStage.Run(result.Index!.Sites, catalogue, p),
                    x => $"{x.Count(v => v.Value is not null)} of {x.Count} covariate values found"),
            };
        }

        if (Reaches("flag"))
        {
            CountryOutlines? countries = configuration.Countries is null ? null : CountryOutlines.Load(configuration.Countries);
            result = result with
            {
                Flags = timer.Time("flag", _ => FlagStage.Run(new FlagInputs(intake.Contributions, result.Index!.Sites, result.Index.Bags,
                        result.Index.Burials, result.Covariates!, countries, configuration.Flags)),
                    x => $"{x.Flags.Count} flags; {result.Index!.Burials.Count(b => x.Verdicts.Of(b).Use == Use.Accepted)} of {result.Index.Burials.Count} burials accepted"),
            };
        }

        if (Reaches("summarise"))
        {
            result = result with
            {
                SiteCampaigns = timer.Time("summarise", _ => SummariseStage.Run(result.Index!.Burials, result.Flags!.Verdicts),
                    x => $"{x.Count(s => s.RatePerDay is not null)} of {x.Count} site campaigns have a mean k"),
            };
        }

        if (Reaches("publish"))
        {
            result = result with
            {
                Release = timer.Time("publish", p => PublishStage.Run(configuration, intake.Contributions, result.Index!, result.Covariates!,
                        result.Flags!, result.SiteCampaigns!, p),
                    x => x.IsNew ? $"release {x.Id}" : $"nothing changed; release {x.Id} stands and no release was written"),
            };
        }

        if (Reaches("train") && configuration.Train is { } train)
            result = result with { Model = Train(timer, atlas, train, catalogue) };
        if (Reaches("map") && configuration.Map is { } map && configuration.Train is not null)
            result = result with { Map = Map(timer, atlas, map, catalogue) };
        return result with { Timings = timer.Timings };
    }

    /// <summary>Trains on the current release alone.</summary>
    /// <exception cref="ConfigurationException">The configuration has no section train, or names no grids.</exception>
    public static FlowResult RunTrain(PipelineConfiguration configuration, IRunObserver observer)
    {
        var timer = new StageTimer(observer);
        TrainSection train = configuration.Train ?? throw Lacks(configuration, "train");
        return new FlowResult { Model = Train(timer, new AtlasFolder(configuration.Atlas), train, CatalogueOf(configuration)), Timings = timer.Timings };
    }

    /// <summary>Maps the current model alone.</summary>
    /// <exception cref="ConfigurationException">The configuration has no section map, or names no grids.</exception>
    public static FlowResult RunMap(PipelineConfiguration configuration, IRunObserver observer)
    {
        var timer = new StageTimer(observer);
        MapSection map = configuration.Map ?? throw Lacks(configuration, "map");
        return new FlowResult { Map = Map(timer, new AtlasFolder(configuration.Atlas), map, CatalogueOf(configuration)), Timings = timer.Timings };
    }

    private static TrainStage.Output Train(StageTimer timer, AtlasFolder atlas, TrainSection section, IReadOnlyList<CatalogueEntry> catalogue) =>
        timer.Time("train", p => TrainStage.Run(atlas, section, catalogue, p),
            x => $"{(x.IsNew ? "trained" : "unchanged")} {x.Card.Winner}, model {x.Card.ModelId}");

    private static MapStage.Output Map(StageTimer timer, AtlasFolder atlas, MapSection section, IReadOnlyList<CatalogueEntry> catalogue) =>
        timer.Time("map", p => MapStage.Run(atlas, section, catalogue, p),
            x => $"{(x.IsNew ? "drawn" : "unchanged")}, {x.Summary.Predicted} of {x.Summary.Cells} cells predicted");

    private static IReadOnlyList<CatalogueEntry> CatalogueOf(PipelineConfiguration configuration) =>
        GridCatalogue.Load(configuration.Grids ?? throw Lacks(configuration, "grids")).Entries;

    private static ConfigurationException Lacks(PipelineConfiguration configuration, string section) =>
        new($"{configuration.Path} has no section {section}; add it.");

    private sealed class StageTimer(IRunObserver observer)
    {
        private readonly List<StageTiming> _timings = [];

        public IReadOnlyList<StageTiming> Timings => _timings;

        public T Time<T>(string stage, Func<Action<string, int, int>, T> run, Func<T, string> sentence)
        {
            observer.StageStarted(stage);
            var watch = Stopwatch.StartNew();
            T made = run((what, done, of) => observer.StageProgressed(stage, what, done, of));
            string outcome = sentence(made);
            _timings.Add(new StageTiming(stage, Math.Round(watch.Elapsed.TotalSeconds, 3), outcome));
            observer.StageFinished(stage, outcome);
            return made;
        }
    }
}

/// <summary>What the stages made, as far as they ran.</summary>
public sealed record FlowResult
{
    public IngestStage.Output? Intake { get; init; }

    public IndexStage.Output? Index { get; init; }

    public IReadOnlyList<CovariateValue>? Covariates { get; init; }

    public FlagStage.Output? Flags { get; init; }

    public IReadOnlyList<SiteCampaign>? SiteCampaigns { get; init; }

    public ReleaseOutcome? Release { get; init; }

    public TrainStage.Output? Model { get; init; }

    public MapStage.Output? Map { get; init; }

    public IReadOnlyList<StageTiming> Timings { get; init; } = [];
}
