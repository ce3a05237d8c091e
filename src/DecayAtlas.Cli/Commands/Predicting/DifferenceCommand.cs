using System.ComponentModel;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.Predicting;

/// <summary>Maps how predicted k changes under other grids (another climate), or between two models.</summary>
internal sealed class DifferenceCommand(Screen screen) : PlainCommand<DifferenceCommand.Settings>
{
    internal sealed class Settings : CommandSettings
    {
        [CommandArgument(0, "<FILE>")]
        [Description(
            "Pipeline configuration (YAML); its current model and its grids are what is compared with, its section map says where.")]
        public required string File { get; init; }

        [CommandOption("--grids <CATALOGUE>")]
        [Description("A grid catalogue with the covariates of the model under another climate. A covariate that it lacks keeps its grid.")]
        public string? Grids { get; init; }

        [CommandOption("--model <ID>")]
        [Description("Another model of the atlas.")]
        public string? Model { get; init; }

        [CommandOption("--output <FOLDER>", isRequired: true)]
        [Description("Folder for difference.tif, difference.nc, difference.png and difference.json; files of these names are replaced.")]
        public required string Output { get; init; }

        [CommandOption("--json")]
        [Description("Print the result as JSON and nothing else.")]
        public bool Json { get; init; }
    }

    protected override int Execute(Settings settings)
    {
        if (settings.Grids is null && settings.Model is null)
            throw new ConfigurationException("difference takes --grids or --model (or both): what is to differ.");
        PipelineConfiguration configuration = ConfigurationReader.Read(settings.File);
        MapSection section = configuration.Map ?? new MapSection();
        DifferenceSummary summary = screen.Working("difference", settings.Json, progress =>
            DifferenceReport.Run(
                new AtlasFolder(configuration.Atlas), configuration.GridsToPredictFrom,
                CatalogueFile.Read(configuration.GridsToPredictFrom, configuration.Remote),
                MapStage.OptionsOf(section with { Title = $"{section.Title}: change" }), settings.Grids, settings.Model,
                Path.GetFullPath(settings.Output), progress));
        if (settings.Json)
        {
            screen.Json(summary);
            return RecordedRun.Done;
        }

        screen.Line(
            $"Compared: {summary.ComparedSquareKilometres:0} km2, {summary.ApplicableSquareKilometres:0} km2 of it applicable on both "
            + "sides.");
        if (summary.MeanRatio is { } ratio)
        {
            screen.Line(
                $"There k changes by a factor of {ratio:0.000} in the geometric mean; "
                + $"{summary.ToldApart} of {summary.ApplicableOnBoth} cells ({summary.ToldApartSquareKilometres:0} km2) have an interval "
                + "that leaves out 1.");
            screen.Line(DifferenceMap.SpaceForTime);
        }

        foreach (IGrouping<string, DifferenceSource> model in new[] { summary.Before, summary.After }.GroupBy(side => side.ModelId))
            screen.Line($"{model.Key}: {model.First().WithoutNoted}");
        screen.Line($"Difference: {Path.Combine(Path.GetFullPath(settings.Output), DifferenceReport.PngName)}, "
            + $"{DifferenceReport.TifName}, {DifferenceReport.NetCdfName} and {DifferenceReport.SummaryName}");
        return RecordedRun.Done;
    }
}
