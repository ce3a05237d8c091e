using System.ComponentModel;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.Predicting;

/// <summary>Sums the current map over polygons: area, mean k or S with interval, share applicable.</summary>
internal sealed class RegionsCommand(Screen screen) : PlainCommand<RegionsCommand.Settings>
{
    internal sealed class Settings : ConfigurationFileSettings
    {
        [CommandOption("--polygons <FILE>", isRequired: true)]
        [Description("Polygons as GeoJSON, WGS 84.")]
        public required string Polygons { get; init; }

        [CommandOption("--of <QUANTITY>")]
        [Description("k, the decay rate, or s, the stabilisation factor.")]
        [DefaultValue("k")]
        public string Of { get; init; } = "k";

        [CommandOption("--name <PROPERTY>")]
        [Description("Property that names each polygon; name where all have it, else they are counted.")]
        public string? Name { get; init; }

        [CommandOption("--picture <REGION>")]
        [Description("Draw the map of the polygon of this name too, as region.png.")]
        public string? Picture { get; init; }

        [CommandOption("--output <FOLDER>", isRequired: true)]
        [Description("Folder for regions.geojson, regions.csv and regions.parquet; files of these names are replaced.")]
        public required string Output { get; init; }
    }

    protected override int Execute(Settings settings)
    {
        PipelineConfiguration configuration = ConfigurationReader.Read(settings.File);
        AtlasFolder atlas = new(configuration.Atlas);
        AskedOf asked = AskedOfNames.Parse(settings.Of);
        IReadOnlyList<CatalogueEntry> catalogue = CatalogueFile.Read(configuration.GridsToPredictFrom, configuration.Remote);
        MapSection section = configuration.Map ?? new MapSection();
        RegionDrawing? drawing = settings.Picture is not { } region ? null : new(region, model =>
            MapStage.OptionsOf(section with { Title = MapStage.TitleOf(section, asked.Quantity()) }) is var options
            && configuration.Train is { } train ? MapStage.LearntFrom(atlas, train, catalogue, model, options) : options);
        RegionAnswer answer = screen.Working("regions", settings.Json, progress =>
            RegionReport.Run(atlas, asked.Quantity(), settings.Polygons, settings.Name,
                catalogue, configuration.Conditions, configuration.Choices, Path.GetFullPath(settings.Output), drawing, progress));
        if (settings.Json)
        {
            screen.Json(new { output = Path.GetFullPath(settings.Output), regions = answer.Rows, answer.WithoutNoted, answer.AsIf });
            return RecordedRun.Done;
        }

        string[] means = asked == AskedOf.Rate ? ["mean k per day", "from", "to"] : ["mean S", "from", "to"],
            halfLives = asked == AskedOf.Rate ? ["half-life, days", "from", "to"] : [];
        screen.Table(
            ["region", "km2", "predicted km2", "applicable", .. means, "independent cells", .. halfLives],
            answer.Rows.Select(r => (string[])
            [
                r.Name, $"{r.SquareKilometres:0}", $"{r.PredictedSquareKilometres:0}",
                r.ApplicableShare is { } share ? $"{100 * share:0} %" : "",
                .. asked == AskedOf.Rate
                    ? [$"{r.MeanRatePerDay:0.00000}", $"{r.MeanLowerRatePerDay:0.00000}", $"{r.MeanUpperRatePerDay:0.00000}"]
                    : (string[])[$"{r.Stabilisation?.Mean:0.000}", $"{r.Stabilisation?.Lower:0.000}", $"{r.Stabilisation?.Upper:0.000}"],
                $"{r.IndependentCells:0.0}",
                .. asked == AskedOf.Rate
                    ? [$"{r.HalfLifeDays:0.0}", $"{r.HalfLifeLowerDays:0.0}", $"{r.HalfLifeUpperDays:0.0}"] : Array.Empty<string>(),
            ]));
        if (answer.AsIf is { } chosen)
            screen.Line($"The map is made {chosen}.");
        screen.Line(answer.WithoutNoted);
        if (drawing is not null)
            screen.Line($"Picture: {Path.Combine(Path.GetFullPath(settings.Output), RegionDrawing.FileName)}");
        screen.Line($"Regions: {Path.Combine(Path.GetFullPath(settings.Output), RegionFiles.GeoJsonName)}, {RegionFiles.CsvName} and "
            + $"{RegionFiles.ParquetName}");
        return RecordedRun.Done;
    }
}
