using DecayAtlas.Cli.Commands;
using DecayAtlas.Cli.Reporting;
using DecayAtlas.Pipeline.Runs;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli;

/// <summary>The commands, and how every failure becomes one sentence and an exit code.</summary>
public static class CommandLine
{
    /// <summary>Runs a command line.</summary>
    /// <param name="output">Takes the result.</param>
    /// <param name="error">Takes progress and failures.</param>
    /// <returns>0 done, 1 finished with findings that need a person, 2 usage or configuration, 3 failed.</returns>
    public static int Run(string[] args, TextWriter output, TextWriter error)
    {
        var screen = new Screen(output, error);
        var app = new CommandApp(new Services(screen));
        app.Configure(Configure);
        try
        {
            int code = app.Run(args);
            return code < 0 ? RecordedRun.Usage : code;
        }
        catch (Exception e)
        {
            return Failure.Report(e, screen, args.Contains("--json"));
        }
    }

    private static void Configure(IConfigurator config)
    {
        config.SetApplicationName("decayatlas");
        config.SetApplicationVersion(typeof(CommandLine).Assembly.GetName().Version!.ToString(3));
        config.PropagateExceptions();
        config.UseStrictParsing();
        config.Settings.ValidateExamples = false;

        config.AddCommand<RunCommand>("run")
            .WithDescription("Run every stage of a configuration: intake to release, model and map.")
            .WithExample("run", "pipeline/demo.yaml")
            .WithExample("run", "pipeline/demo.yaml", "--json");
        foreach ((string stage, string description) in StageDescriptions)
        {
            config.AddCommand<StageCommand>(stage)
                .WithDescription(description)
                .WithData(stage)
                .WithExample(stage, "pipeline/demo.yaml");
        }

        config.AddCommand<CheckCommand>("check")
            .WithDescription("Tell a contributor what is wrong with a contribution (folder, .zip, .xlsx, or wide table with a mapping) before it is sent; needs no atlas.")
            .WithExample("check", "my-contribution")
            .WithExample("check", "results.xlsx", "--report", "results.html")
            .WithExample("check", "results.csv", "--mapping", "results.mapping.yaml", "--json");
        config.AddCommand<MapColumnsCommand>("map-columns")
            .WithDescription("Propose a column mapping for an unknown wide table and write it for a person to finish.")
            .WithExample("map-columns", "results.csv")
            .WithExample("map-columns", "results.xlsx", "--sheet", "field data");
        config.AddCommand<CompareCommand>("compare")
            .WithDescription("Compare the sites of the current release between groups.")
            .WithExample("compare", "pipeline/demo.yaml", "--by", "management");
        config.AddCommand<DemoCommand>("demo")
            .WithDescription("Make the invented scenario: islands, grids, contributions with planted faults, and the truth.")
            .WithExample("demo", "scenario", "--seed", "7");
    }

    /// <summary>What each stage's command does. Stages before publish write nothing but intake and quarantine.</summary>
    internal static IReadOnlyList<(string Stage, string Description)> StageDescriptions { get; } =
    [
        ("ingest", "Take the inbox in: accept or quarantine each contribution whole."),
        ("index", "Ingest, then compute k and S of every burial and say why one is missing."),
        ("snap", "Index, then give every site its covariates from the grids."),
        ("flag", "Snap, then flag what looks wrong and decide the use of every record."),
        ("summarise", "Flag, then summarise the accepted burials of each site and campaign."),
        ("publish", "Summarise, then publish a release, unless nothing changed."),
        ("train", "Train a model of decay rate on the current release."),
        ("map", "Map the current model over the grids."),
    ];
}
