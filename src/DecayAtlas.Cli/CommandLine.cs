using Microsoft.Extensions.DependencyInjection;
using Spectre.Console;
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
        Screen screen = new(output, error);
        CommandApp app = new(new Services(new ServiceCollection().AddSingleton(screen)));
        app.Configure(config =>
        {
            config.ConfigureConsole(AnsiConsole.Create(new AnsiConsoleSettings { Out = new AnsiConsoleOutput(output) }));
            Configure(config);
        });
        try
        {
            int code = app.Run(args);
            return code < 0 ? RecordedRun.Usage : code;
        }
        catch (Exception e)
        {
            return Failure.Report(e, screen, args.Contains("--json"), MeantOption.Of(e.Message, args, Configure));
        }
    }

    /// <summary>Tells the command library which commands there are.</summary>
    internal static void Configure(IConfigurator config)
    {
        config.SetApplicationName("decayatlas");
        config.SetApplicationVersion(ProgramVersion.Own);
        config.PropagateExceptions();
        config.UseStrictParsing();

        config.AddExample("run pipeline/demo.yaml");
        config.AddExample("check schemas/v1/example");
        config.AddExample("compare pipeline/demo.yaml --by ecosystem");

        config.AddCommand<RunCommand>("run").Told(
            "Run every stage of a configuration: intake to release, model and map. Exit codes of all commands: 0 done; 1 done, but "
            + "something needs a person; 2 command line or configuration wrong; 3 failed, and what was current before the stage that "
            + "failed still is.",
            "run pipeline/demo.yaml", "run pipeline/demo.yaml --dry-run", "run pipeline/demo.yaml --json");
        config.AddCommand<CheckCommand>("check").Told(
            "Tell a contributor what is wrong with a contribution (folder, .zip, .xlsx, or wide table with a mapping) before it is sent; "
            + "needs no atlas.",
            "check schemas/v1/example", "check results.xlsx --report results.html",
            "check results.csv --mapping results.mapping.yaml --json");
        config.AddCommand<CheckPageCommand>("check-page").Told(
            "Write the check for browsers as one file to hand out: it opens from a USB stick, and nothing leaves the computer.",
            "check-page check.html", "check-page check.html --campaign campaign.yaml --language de");
        config.AddCommand<MapColumnsCommand>("map-columns").Told(
            "Ask about a table as you have it what only you know, and write the mapping by which check reads it.",
            "map-columns results.csv", "map-columns results.xlsx --answer date-order=dmy --language de");
        config.AddCommand<KitCommand>("kit").Told(
            "Make the kits of a campaign's groups: a workbook to fill in, labels, sheets for the field and the balance, an experiment, "
            + "cautions.",
            "kit docs/examples/campaign.yaml", "kit docs/examples/campaign.yaml --group moss-watchers --language fr --paper letter");
        config.AddCommand<CompareCommand>("compare").Told(
            "Compare k or S between groups of the current release by a mixed model, sites random, and say where its variance lies.",
            "compare pipeline/demo.yaml --by management",
            "compare pipeline/demo.yaml --by management --with air_temperature_mean,soil_ph");
        config.AddCommand<UncertaintyCommand>("uncertainty").Told(
            "Propagate the uncertainty of every burial of a contribution by Monte Carlo beside first order, and bootstrap the mean of "
            + "each site.",
            "uncertainty schemas/v1/example", "uncertainty results.xlsx --draws 100000 --seed 7 --json");
        config.AddCommand<PredictCommand>("predict").Told(
            "Predict k with interval for the rows of a CSV table: places, or covariates of your own.",
            "predict pipeline/demo.yaml --points places.csv --output predicted.csv", "predict pipeline/demo.yaml --rows covariates.csv");
        config.AddCommand<RegionsCommand>("regions").Told(
            "Sum the current map over polygons: area, mean k with interval, share applicable.",
            "regions pipeline/demo.yaml --polygons districts.geojson --output districts");
        config.AddCommand<DifferenceCommand>("difference").Told(
            "Map how predicted k changes under the grids of another climate, or between two models.",
            "difference pipeline/demo.yaml --grids grids-2050.yaml --output change-2050");
        config.AddCommand<SitesCommand>("sites").Told(
            "Propose where to bury next so that the mean k of a region is surer, and say what each number of sites gains.",
            "sites pipeline/demo.yaml --polygons districts.geojson --region North --count 10 --avoid protected.geojson --output next");
        config.AddCommand<WarmthCommand>("warmth").Told(
            "Say how k of the current release rises, or S moves, with warmth, over sites and in warmed plots, with intervals.",
            "warmth pipeline/demo.yaml --moisture soil_moisture --with soil_ph,clay --by-kelvin 3",
            "warmth pipeline/demo.yaml --of s --figure warmth.svg");
        config.AddCommand<TrendCommand>("trend").Told(
            "Say how k or S of the current release changed over campaigns, a year, and at sites that were dug again, with intervals.",
            "trend pipeline/demo.yaml --with air_temperature_mean", "trend pipeline/demo.yaml --of s --by-site");
        config.AddCommand<RelateCommand>("relate").Told(
            "Say how k or S of the current release goes with a covariate, or with a quantity of samples, adjusted for others, with "
            + "intervals.",
            "relate pipeline/demo.yaml --to soil_ph --with air_temperature_mean,soil_moisture",
            "relate pipeline/demo.yaml --to richness --gene ITS --of s");
        config.AddCommand<CalibrateCommand>("calibrate").Told(
            "Say from all series of the current release whether both litters have one S, and what a two-bag k is off where they have not.",
            "calibrate pipeline/demo.yaml", "calibrate pipeline/demo.yaml --json");
        config.AddCommand<PlanCommand>("plan").Told(
            "Say how many sites, plots, burials and campaigns show a stated ratio of k (difference of S), with losses and costs, from a "
            + "release's variances or stated ones: by formula, confirmed by simulated campaigns.",
            "plan pipeline/demo.yaml --ratio 1.2 --loss 0.1 --cost-bag 4 --cost-site 150",
            "plan --ratio 1.2 --variances site=0.04:0.02..0.09,campaign-at-site=0.01,burial=0.02 --figure plan.svg --csv plan.csv",
            "plan --design again --ratio 0.7 --campaigns 3..8 --variances campaign=0.005,campaign-at-site=0.01,site=0.04,burial=0.02");
        config.AddCommand<SensitivityCommand>("sensitivity").Told(
            "Say what k, S and the answers of the current release would be under another H, unspoken water, other exposures, or a plateau "
            + "not reached: all that is tried each night, or values of your own.",
            "sensitivity pipeline/demo.yaml", "sensitivity pipeline/demo.yaml --h-fast 0.80 --water 0.06",
            "sensitivity pipeline/demo.yaml --days 70..110 --fast-over-slow 6 --json");
        config.AddCommand<FiguresCommand>("figures").Told(
            "Draw the figures of the current release: curves, agreement, comparisons, variance, response to warmth.",
            "figures pipeline/demo.yaml --to figures --moisture soil_moisture");
        config.AddCommand<SeriesCommand>("series").Told(
            "Write what remained of both litters at each site, with uncertainties and what the bags felt, as one NetCDF file for models of "
            + "soil carbon.",
            "series pipeline/demo.yaml --output series.nc", "series pipeline/demo.yaml --json");
        config.AddCommand<ExportCommand>("export").Told(
            "Write a release as CSV, as one workbook, sites and burials as GeoPackage, and the whole as one archive, with the digits that "
            + "errors support.",
            "export pipeline/demo.yaml --to tables", "export pipeline/demo.yaml --as csv,gpkg --release 0123456789ab --json");
        config.AddCommand<DepositCommand>("deposit").Told(
            "Write a release as a repository for data takes it: two archives, how to cite, a DataCite document, an RO-Crate.",
            "deposit pipeline/demo.yaml --date 2026-05-31 --to deposit",
            "deposit pipeline/demo.yaml --date 2026-05-31 --doi 10.1234/abc --json");
        config.AddCommand<ChangesCommand>("changes").Told(
            "Say what came, went and changed between two releases, and why k and S moved: new data, revision, withdrawn, flag, decision, "
            + "setting, code version.",
            "changes pipeline/demo.yaml", "changes pipeline/demo.yaml 0123456789ab ba9876543210 --json");
        config.AddCommand<ServeCommand>("serve").Told(
            "Serve the current release to a browser and to programs, read-only: pages, files, sites and burials, predictions; newer "
            + "releases are taken up while it runs. Ctrl-C ends it.",
            "serve pipeline/demo.yaml", "serve pipeline/nightly.yaml --address 192.0.2.10 --port 8080",
            "serve pipeline/nightly.yaml --public-url https://soil.example/atlas/ --json");
        config.AddCommand<VerifyCommand>("verify").Told(
            "Recompute every checksum of the atlas and name what rotted; 1 where anything did.",
            "verify pipeline/demo.yaml");
        config.AddCommand<PruneCommand>("prune").Told(
            "Take away old releases and the parts, models and maps that only they hold; intake is never touched.",
            "prune pipeline/demo.yaml --keep 12 --dry-run");
        config.AddBranch("grids", grids =>
        {
            grids.SetDescription("Bring grids of soil and climate into a catalogue, and find its mistakes.");
            grids.AddCommand<GridsInspectCommand>("inspect").Told(
                "Say what is understood of a grid file: cells, reference system, extent, steps, unit, missing share, values; and draw it. "
                + "1 where it cannot be used.",
                "grids inspect soil/clay.tif --sites pipeline/demo.yaml --picture clay.png",
                "grids inspect climate.nc --variable tas --select time=1999-07");
            grids.AddCommand<GridsAddCommand>("add").Told(
                "Write a catalogue entry for a file, with title, unit, kind and rule proposed from what it says; the rest of the "
                + "catalogue stays as it is. 1 where the entry needs a look.",
                "grids add grids.yaml soil/clay.tif --name clay --unit %",
                "grids add grids.yaml climate.nc --name air_temperature_07 --variable tas --select time=1999-07");
            grids.AddCommand<GridsCheckCommand>("check").Told(
                "Find a catalogue's mistakes: units, reference systems, values that cannot be in their unit, months that lack, sites that "
                + "are not reached. 1 where anything is found.",
                "grids check pipeline/demo.yaml", "grids check grids.yaml --json");
        });
        config.AddCommand<DemoCommand>("demo").Told(
            "Make the invented scenario: islands, grids, contributions with planted faults, and the truth.",
            "demo scenario --seed 7");
        config.AddCommand<CompletionCommand>("completion").WithData((Action<IConfigurator>)Configure).Told(
            "Print the script that lets your shell complete commands, options and files: bash, powershell or zsh.",
            "completion bash");
        foreach ((string stage, string description) in StageDescriptions)
            config.AddCommand<StageCommand>(stage).WithData(stage).Told(description, $"{stage} pipeline/demo.yaml");
    }

    private static void Told(this ICommandConfigurator command, string description, params string[] examples)
    {
        command.WithDescription(description);
        foreach (string example in examples) command.WithExample(example);
    }

    /// <summary>What each stage's command does. Stages before publish write nothing but intake, quarantine and memory.</summary>
    internal static IReadOnlyList<(string Stage, string Description)> StageDescriptions { get; } =
    [
        ("ingest", "Take the inbox in: accept or quarantine each contribution whole."),
        ("snap", "Ingest, then sample the grids at every new site."),
        ("compute", "Snap, then compute k and S of every burial, flag what looks wrong, decide the use of every record and summarise "
            + "each site."),
        ("cross-check", "Compute, then hold all contributors against one another and note what stands apart."),
        ("publish", "Cross-check, then publish a release, unless nothing changed."),
        ("train", "Train a model of decay rate on the current release."),
        ("map", "Map the current model over the grids."),
        ("pages", "Make the pages of the current release: map, overview, quality, model, data, and a page for each contribution."),
    ];
}
