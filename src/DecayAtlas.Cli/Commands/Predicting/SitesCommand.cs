using System.ComponentModel;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.Predicting;

/// <summary>Proposes where to bury next so that the mean of a region is surer.</summary>
internal sealed class SitesCommand(Screen screen) : PlainCommand<SitesCommand.Settings>
{
    internal sealed class Settings : ConfigurationFileSettings
    {
        [CommandOption("--polygons <FILE>")]
        [Description("Regions as GeoJSON polygons, WGS 84; those of map.regions by default, and without them the whole map.")]
        public string? Polygons { get; init; }

        [CommandOption("--name <PROPERTY>")]
        [Description("Property that names each polygon; name where all have it, else they are counted.")]
        public string? Name { get; init; }

        [CommandOption("--region <NAME>")]
        [Description("The polygon whose mean is to be surer; by default those of all polygons together.")]
        public string? Region { get; init; }

        [CommandOption("--whole-map")]
        [Description("Take the mean of the whole map, whatever polygons map.regions names.")]
        public bool WholeMap { get; init; }

        [CommandOption("--count <N>")]
        [Description("New sites.")]
        [DefaultValue(10)]
        public int Count { get; init; } = 10;

        [CommandOption("--burials <N>")]
        [Description("Burials at each new site.")]
        [DefaultValue(4)]
        public int Burials { get; init; } = 4;

        [CommandOption("--apart <KM>")]
        [Description("Least distance of a new site from every other, new or existing.")]
        [DefaultValue(1.0)]
        public double Apart { get; init; } = 1;

        [CommandOption("--outside")]
        [Description("Propose places outside the area of applicability too, to learn what the model does not know.")]
        public bool Outside { get; init; }

        [CommandOption("--kriged")]
        [Description("Count what a site tells of the places around it too, as for whoever krigs the residuals of the model.")]
        public bool Kriged { get; init; }

        [CommandOption("--avoid <FILE>")]
        [Description("Where nobody may bury, as GeoJSON polygons, WGS 84: protected areas, water, towns. Cells that one touches are left "
            + "out.")]
        public string? Avoid { get; init; }

        [CommandOption("--output <FOLDER>", isRequired: true)]
        [Description("Folder for sites.csv, sites.geojson, sites.png, sites-gain.csv, sites-gain.svg and sites-gain.png; files of these "
            + "names are replaced.")]
        public required string Output { get; init; }
    }

    protected override int Execute(Settings settings)
    {
        if (settings.Count is < 1 or > SiteRequest.MostSites)
            throw new ConfigurationException($"--count is {settings.Count}, expected 1 to {SiteRequest.MostSites} new sites.");
        if (settings.Burials is < 1 or > 100)
            throw new ConfigurationException($"--burials is {settings.Burials}, expected 1 to 100 burials at each site.");
        if (!(settings.Apart is >= 0 and <= 1000))
            throw new ConfigurationException($"--apart is {settings.Apart}, expected 0 to 1000 kilometres.");
        if (settings.WholeMap && (settings.Region ?? settings.Polygons ?? settings.Name) is not null)
            throw new ConfigurationException("--whole-map takes none of --polygons, --name and --region; leave one or the other out.");
        PipelineConfiguration configuration = ConfigurationReader.Read(settings.File);
        bool isOfMap = settings.Polygons is null && !settings.WholeMap;
        SiteQuestion question = new(isOfMap ? configuration.Map?.Regions : settings.Polygons,
            settings.Name ?? (isOfMap ? configuration.Map?.RegionName : null), settings.Region, settings.Count)
        {
            Burials = settings.Burials,
            ApartKilometres = settings.Apart,
            IsOutsideToo = settings.Outside,
            IsKriged = settings.Kriged,
            Avoid = settings.Avoid,
        };
        string folder = Path.GetFullPath(settings.Output);
        SiteAnswer answer = screen.Working("sites", settings.Json, progress =>
            SiteReport.Run(new AtlasFolder(configuration.Atlas), question,
                CatalogueFile.Read(configuration.GridsToPredictFrom, configuration.Remote), configuration.Conditions, configuration.Choices,
                folder, progress));
        if (settings.Json)
        {
            screen.Json(new
            {
                answer.Cautions,
                answer.Sentences,
                output = folder,
                answer.Plan.Regions,
                answer.Plan.ModelId,
                answer.Plan.ReleaseId,
                answer.Plan.Level,
                sites = SiteFiles.Places(answer.Plan),
                gain = SiteFiles.Gain(answer.Plan),
                squares = answer.Plan.Tally,
                burials_sd_ln_k = Math.Sqrt(answer.Noise.OfSite),
                batch_sd_ln_k = Math.Sqrt(answer.Noise.OfBatch),
            });
            return RecordedRun.Done;
        }

        screen.Lines(answer.Cautions);
        screen.Table(
            ["rank", "region", "latitude", "longitude", "k per day", "from", "to", "applicable", "km to a site", "mean then +-%"],
            answer.Plan.Sites.Select(s => new[]
            {
                $"{s.Rank}", s.Region, $"{s.Place.LatitudeDegrees:0.0000}", $"{s.Place.LongitudeDegrees:0.0000}", $"{s.RatePerDay:0.00000}",
                $"{s.LowerPerDay:0.00000}", $"{s.UpperPerDay:0.00000}", s.IsApplicable ? "yes" : "no", $"{s.NearestSiteMetres / 1000:0.0}",
                $"{SitePlan.PercentOf(s.After):0.0}",
            }));
        screen.Lines(answer.Sentences);
        screen.Line($"Sites: {Path.Combine(folder, SiteFiles.CsvName)}, {SiteFiles.GeoJsonName}, {SiteFiles.MapName}, "
            + $"{SiteFiles.GainName}, {SiteFiles.FigureSvgName} and {SiteFiles.FigurePngName}");
        return RecordedRun.Done;
    }
}
