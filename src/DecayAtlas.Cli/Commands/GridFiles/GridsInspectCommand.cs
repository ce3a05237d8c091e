using System.ComponentModel;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.GridFiles;

/// <summary>Says what is understood of a grid file, and draws it with the sites on it.</summary>
internal sealed class GridsInspectCommand(Screen screen) : PlainCommand<GridsInspectCommand.Settings>
{
    internal sealed class Settings : GridFileSettings
    {
        [CommandOption("--sites <CONFIG>")]
        [Description("A pipeline configuration: count its sites on the grid, and draw them on the picture.")]
        public string? Sites { get; init; }

        [CommandOption("--picture <FILE>")]
        [Description("Also draw the layer: FILE.png.")]
        public string? Picture { get; init; }

        [CommandOption("--classes")]
        [Description("Draw the values as classes, one colour each.")]
        public bool Classes { get; init; }

        [CommandOption("--json")]
        [Description("Print the result as JSON and nothing else.")]
        public bool Json { get; init; }
    }

    protected override int Execute(Settings settings)
    {
        if (settings.Picture is { } picture && !picture.EndsWith(".png", StringComparison.OrdinalIgnoreCase))
            throw new ConfigurationException($"--picture {picture}: a picture is a .png file; give it this ending.");
        GridFileSettings.RequireFile(settings.File);
        PipelineConfiguration? configuration = settings.Sites is { } named ? ConfigurationReader.Read(named) : null;
        KnownSites? sites = configuration is null ? null : GridsCheckCommand.SitesOf(configuration);
        GridInspection found = GridInspection.Of(settings.File,
            settings.ReadOptions() with { Remote = configuration?.Remote ?? RemoteGrids.None });
        SitesOnGrid? onGrid = sites is null || found.Refusal is not null ? null : SitesOnGrid.Of(found, sites);
        if (settings.Json)
            screen.Json(GridReport.Json(found, onGrid));
        else
            GridReport.Write(screen, found, onGrid);
        if (settings.Picture is { } file && found.Refusal is null)
            Draw(file, found, settings.Classes, sites?.Places ?? []);
        return found.Refusal is null ? RecordedRun.Done : RecordedRun.NeedsPerson;
    }

    private static void Draw(string file, GridInspection found, bool classes, IReadOnlyList<GeoPoint> sites)
    {
        using Grid grid = GridFile.Open(found.Path, found.Options);
        GridPictureWords words = new(
            found.Layer.Title ?? found.Layer.Variable ?? Path.GetFileNameWithoutExtension(found.Path),
            GridReport.NameOf(found),
            found.Layer.Unit ?? "",
            classes || found.Layer.Storage?.HasColours == true);
        File.WriteAllBytes(file, GridPicture.Draw(grid, words, sites));
    }
}
