using System.ComponentModel;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.Exporting;

/// <summary>Writes the exposures of the current release as one file for models of soil carbon.</summary>
internal sealed class SeriesCommand(Screen screen) : PlainCommand<SeriesCommand.Settings>
{
    internal sealed class Settings : ConfigurationFileSettings
    {
        [CommandOption("--output <FILE>")]
        [Description("The NetCDF file.")]
        [DefaultValue("series.nc")]
        public string Output { get; init; } = "series.nc";
    }

    protected override int Execute(Settings settings)
    {
        PipelineConfiguration configuration = ConfigurationReader.Read(settings.File);
        ReleaseReader release = new(new AtlasFolder(configuration.Atlas));
        ExposureSeries series = ExposureSeries.Of(release);
        if (series.Exposures == 0)
        {
            throw new AtlasException($"Release {release.ReleaseId} has no exposure with a remaining fraction at a site with a place; there "
                + "is nothing to write.");
        }

        IReadOnlyList<SeriesQuantity> quantities =
            configuration.Grids is { } grids ? SeriesQuantity.Of(CatalogueFile.Read(grids, configuration.Remote)) : [];
        string path = Path.GetFullPath(settings.Output);
        string software = $"DecayAtlas {typeof(SeriesCommand).Assembly.GetName().Version!.ToString(3)}";
        Dictionary<string, string> about = new()
        {
            ["title"] = configuration.Title,
            ["institution"] = configuration.Publisher,
            ["source"] = $"litter bags weighed before and after burial, atlas release {release.ReleaseId}",
            ["release_id"] = release.ReleaseId,
            ["history"] = $"made by the command series of {software}",
            ["comment"] = "Uncertainties of lots and batches are shared by all their bags: they don't average out. Covariates are of "
                + "grids, and know nothing of treatments.",
        };
        DurableFile.Guard(path, () => DurableFile.Replace([path], unfinished =>
        {
            SeriesFile.Write(unfinished(path), series, quantities, about);
            return path;
        }));
        if (settings.Json)
        {
            screen.Json(new
            {
                release = release.ReleaseId,
                file = path,
                sites = series.Sites.Count,
                exposures = series.Exposures,
                left_out_without_place = series.LeftOut,
            });
        }
        else
        {
            screen.Line($"{series.Exposures} exposures at {series.Sites.Count} sites of release {release.ReleaseId} are in "
                + settings.Output + (series.LeftOut == 0 ? "." : $"; {series.LeftOut} at sites without a published place are left out."));
        }

        return RecordedRun.Done;
    }
}
