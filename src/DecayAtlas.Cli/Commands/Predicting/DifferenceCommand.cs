using System.ComponentModel;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.Predicting;

/// <summary>Maps how predicted k or S changes under other grids (another climate), or between two models.</summary>
internal sealed class DifferenceCommand(Screen screen) : PlainCommand<DifferenceCommand.Settings>
{
    internal sealed class Settings : CommandSettings
    {
        [CommandArgument(0, "<FILE>")]
        [Description(
            "Pipeline configuration (YAML); its current model and its grids are what is compared with, its section map says where.")]
        public required string File { get; init; }

        [CommandOption("--of <QUANTITY>")]
        [Description("k, the decay rate, or s, the stabilisation factor.")]
        [DefaultValue("k")]
        public string Of { get; init; } = "k";

        [CommandOption("--grids <CATALOGUE>")]
        [Description("A grid catalogue with the covariates of the model under another climate. A covariate that it lacks keeps its grid.")]
        public string? Grids { get; init; }

        [CommandOption("--model <ID>")]
        [Description("Another model of the atlas.")]
        public string? Model { get; init; }

        [CommandOption("--as-if <NAME=CLASS>")]
        [Description("Take every place for a class on the other side, as management=organic; may be given several times.")]
        public string[] AsIf { get; init; } = [];

        [CommandOption("--before-as-if <NAME=CLASS>")]
        [Description("The class of every place on the side that is compared with; that of map.as_if unless stated.")]
        public string[] BeforeAsIf { get; init; } = [];

        [CommandOption("--output <FOLDER>", isRequired: true)]
        [Description("Folder for difference.tif, difference.nc, difference.png and difference.json; files of these names are replaced.")]
        public required string Output { get; init; }

        [CommandOption("--json")]
        [Description("Print the result as JSON and nothing else.")]
        public bool Json { get; init; }
    }

    protected override int Execute(Settings settings)
    {
        if (settings.Grids is null && settings.Model is null && settings.AsIf.Length == 0)
            throw new ConfigurationException("difference takes --grids, --model or --as-if (or several): what is to differ.");
        IReadOnlyDictionary<string, string> before = ChosenClasses.Of("--before-as-if", settings.BeforeAsIf),
            after = ChosenClasses.Of("--as-if", settings.AsIf);
        AskedOf asked = AskedOfNames.Parse(settings.Of);
        PipelineConfiguration configuration = ConfigurationReader.Read(settings.File);
        MapSection section = configuration.Map ?? new MapSection();
        MapOptions options = MapStage.OptionsOf(section with { Title = $"{MapStage.TitleOf(section, asked.Quantity())}: change" });
        DifferenceSummary summary = screen.Working("difference", settings.Json, progress =>
            DifferenceReport.Run(
                new AtlasFolder(configuration.Atlas), asked.Quantity(), configuration.GridsToPredictFrom,
                CatalogueFile.Read(configuration.GridsToPredictFrom, configuration.Remote),
                options, settings.Grids, settings.Model, (before, after), Path.GetFullPath(settings.Output), progress));
        if (settings.Json)
        {
            screen.Json(summary);
            return RecordedRun.Done;
        }

        screen.Line(
            $"Compared: {summary.ComparedSquareKilometres:0} km2, {summary.ApplicableSquareKilometres:0} km2 of it applicable on both "
            + "sides.");
        if ((summary.MeanRatio ?? summary.MeanDifference) is { } change)
        {
            screen.Line(
                (asked == AskedOf.Rate ? $"There k changes by a factor of {change:0.000} in the geometric mean; "
                    : $"There S changes by {change:+0.000;-0.000;0.000} in the mean; ")
                + $"{summary.ToldApart} of {summary.ApplicableOnBoth} cells ({summary.ToldApartSquareKilometres:0} km2) have an interval "
                + $"that leaves out {(asked == AskedOf.Rate ? 1 : 0)}.");
            foreach (string caution in DifferenceMap.CautionsOf(summary))
                screen.Line(caution);
        }

        foreach (IGrouping<string, DifferenceSource> model in new[] { summary.Before, summary.After }.GroupBy(side => side.ModelId))
            screen.Line($"{model.Key}: {model.First().WithoutNoted}");
        screen.Line($"Difference: {Path.Combine(Path.GetFullPath(settings.Output), DifferenceReport.PngName)}, "
            + $"{DifferenceReport.TifName}, {DifferenceReport.NetCdfName} and {DifferenceReport.SummaryName}");
        return RecordedRun.Done;
    }
}
