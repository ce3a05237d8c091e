using System.ComponentModel;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.Predicting;

/// <summary>Sums the current map over polygons: area, mean k with interval, share applicable.</summary>
internal sealed class RegionsCommand(Screen screen) : PlainCommand<RegionsCommand.Settings>
{
    internal sealed class Settings : ConfigurationFileSettings
    {
        [CommandOption("--polygons <FILE>", isRequired: true)]
        [Description("Polygons as GeoJSON, WGS 84.")]
        public required string Polygons { get; init; }

        [CommandOption("--name <PROPERTY>")]
        [Description("Property that names each polygon; name where all have it, else they are counted.")]
        public string? Name { get; init; }

        [CommandOption("--output <FOLDER>", isRequired: true)]
        [Description("Folder for regions.geojson, regions.csv and regions.parquet; files of these names are replaced.")]
        public required string Output { get; init; }
    }

    protected override int Execute(Settings settings)
    {
        PipelineConfiguration configuration = ConfigurationReader.Read(settings.File);
        AtlasFolder atlas = new(configuration.Atlas);
        RegionAnswer answer = screen.Working("regions", settings.Json, progress =>
            RegionReport.Run(atlas, settings.Polygons, settings.Name,
                CatalogueFile.Read(configuration.GridsToPredictFrom, configuration.Remote),
                configuration.Conditions, Path.GetFullPath(settings.Output), progress));
        if (settings.Json)
        {
            screen.Json(new { output = Path.GetFullPath(settings.Output), regions = answer.Rows, answer.WithoutNoted });
            return RecordedRun.Done;
        }

        screen.Table(
            ["region", "km2", "predicted km2", "applicable", "mean k per day", "from", "to", "independent cells"],
            answer.Rows.Select(r => new[]
            {
                r.Name, $"{r.SquareKilometres:0}", $"{r.PredictedSquareKilometres:0}",
                r.ApplicableShare is { } share ? $"{100 * share:0} %" : "", $"{r.MeanRatePerDay:0.00000}",
                $"{r.MeanLowerRatePerDay:0.00000}", $"{r.MeanUpperRatePerDay:0.00000}", $"{r.IndependentCells:0.0}",
            }));
        screen.Line(answer.WithoutNoted);
        screen.Line($"Regions: {Path.Combine(Path.GetFullPath(settings.Output), RegionFiles.GeoJsonName)}, {RegionFiles.CsvName} and "
            + $"{RegionFiles.ParquetName}");
        return RecordedRun.Done;
    }
}
