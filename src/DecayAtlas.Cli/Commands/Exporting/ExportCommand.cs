using System.ComponentModel;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.Exporting;

/// <summary>Writes a release for programs that do not read Parquet.</summary>
internal sealed class ExportCommand(Screen screen) : PlainCommand<ExportCommand.Settings>
{
    /// <summary>What can be asked for, and how the paths of its files end.</summary>
    public static IReadOnlyList<string> Formats { get; } = ["csv", "xlsx", "gpkg", "zip"];

    internal sealed class Settings : ConfigurationFileSettings
    {
        [CommandOption("--to <FOLDER>")]
        [Description("Where the files are written; it is made where it is not there, and files of the same names are replaced. By default "
            + "export-ID.")]
        public string? To { get; init; }

        [CommandOption("--as <LIST>")]
        [Description("Which of csv, xlsx, gpkg and zip, joined by commas; all where none is named.")]
        public string? As { get; init; }

        [CommandOption("--release <ID>")]
        [Description("The release, by its id; the current one where none is named.")]
        public string? Release { get; init; }
    }

    protected override int Execute(Settings settings)
    {
        string[] asked = CovariateList.Of(settings.As);
        if (settings.As is not null && (asked.Length == 0 || asked.FirstOrDefault(a => !Formats.Contains(a)) is not null))
        {
            throw new ConfigurationException($"--as is {settings.As}, expected one or more of {string.Join(", ", Formats)}, joined by "
                + "commas.");
        }

        PipelineConfiguration configuration = ConfigurationReader.Read(settings.File);
        AtlasFolder atlas = new(configuration.Atlas);
        ReleaseName release = NamedRelease.Of(atlas, settings.Release);
        ReleaseExports exports = new(atlas, release);
        (string folder, IReadOnlyList<ExportedFile> files) = TargetFolder.Fill(screen, "export", settings.Json, settings.To,
            $"export-{release.Id}", (target, progress) => exports.WriteTo(target,
                asked.Length == 0 ? null : path => asked.Contains(Path.GetExtension(path)[1..]), progress));
        if (settings.Json)
            screen.Json(new { release = release.Id, folder, rows = exports.Rows, files, withoutSheet = exports.WithoutSheet });
        else
            Tell(release, folder, files, exports);
        return RecordedRun.Done;
    }

    private void Tell(ReleaseName release, string folder, IReadOnlyList<ExportedFile> files, ReleaseExports exports)
    {
        screen.Line($"Release {release.Id} in {folder}:");
        TargetFolder.Tell(screen, files);
        if (exports.WithoutSheet.Count > 0 && files.Any(f => f.Path == ReleaseExports.BookName))
            screen.Line($"More rows than a sheet holds, and so only as CSV: {string.Join(", ", exports.WithoutSheet)}.");
        screen.Line("Numbers have the digits that their errors support; all digits are in the Parquet files.");
    }
}
