using System.ComponentModel;
using System.Globalization;
using System.Text.RegularExpressions;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.Exporting;

/// <summary>Writes a release as a repository for data takes it.</summary>
internal sealed partial class DepositCommand(Screen screen) : PlainCommand<DepositCommand.Settings>
{
    internal sealed class Settings : ConfigurationFileSettings
    {
        [CommandOption("--to <FOLDER>")]
        [Description("Where the files are written; it is made where it is not there, and files of the same names are replaced. By default "
            + "deposit-ID.")]
        public string? To { get; init; }

        [CommandOption("--release <ID>")]
        [Description("The release, by its id; the current one where none is named.")]
        public string? Release { get; init; }

        [CommandOption("--doi <DOI>")]
        [Description("The DOI that the repository has set aside for this release, as 10.1234/abc.")]
        public string? Doi { get; init; }

        [CommandOption("--date <DAY>")]
        [Description("The day of publication, YYYY-MM-DD; that of the citation file (release.citation) where none is given.")]
        public string? Date { get; init; }
    }

    protected override int Execute(Settings settings)
    {
        if (settings.Doi is { } doi && !Doi().IsMatch(doi))
            throw new ConfigurationException($"--doi is {doi}, expected a DOI as 10.1234/abc, without https://doi.org/.");
        PipelineConfiguration configuration = ConfigurationReader.Read(settings.File);
        AtlasFolder atlas = new(configuration.Atlas);
        ReleaseName name = NamedRelease.Of(atlas, settings.Release);
        ReleaseDescription found = ReleaseDescription.Of(new(atlas, name.Id), configuration.GroupTitles);
        ReleaseDescription release = found with { Doi = settings.Doi, Published = DayOf(settings.Date) ?? found.Published };
        if (release.Published is null)
        {
            throw new ConfigurationException("The day of publication is missing: give it with --date YYYY-MM-DD, or as date-released in "
                + "the citation file (release.citation).");
        }

        (string folder, IReadOnlyList<ExportedFile> files) = TargetFolder.Fill(screen, "deposit", settings.Json, settings.To,
            $"deposit-{name.Id}", (target, progress) => ReleaseDeposit.WriteTo(target, atlas, name, release, progress));
        if (settings.Json)
            screen.Json(new { release = name.Id, folder, published = release.Published, doi = release.Doi, files });
        else
            Tell(release, folder, files, release.IsCitedAs(configuration.Citation));
        return RecordedRun.Done;
    }

    private static DateOnly? DayOf(string? text) => text is null ? null
        : DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly day) ? day
        : throw new ConfigurationException($"--date is {text}, expected a day as 2026-05-31.");

    private void Tell(ReleaseDescription release, string folder, IReadOnlyList<ExportedFile> files, bool isCitedAsNow)
    {
        screen.Line($"Release {release.Id} in {folder}, to be put into a repository for data:");
        TargetFolder.Tell(screen, files);
        screen.Line($"Made by: {string.Join("; ", release.Creators.Select(c => c.Name))}. Licences of the contributions: "
            + $"{string.Join(", ", release.Licences.Select(l => $"{l.Name} ({l.Contributions})"))}.");
        if (release.IsOfPublisherAlone)
            screen.Line("Nobody but the publisher is named as who made the data: name them in a citation file (release.citation).");
        if (!isCitedAsNow)
        {
            screen.Line("Who made it is told as when the release was published; the citation file was changed since: run again, and "
                + "deposit the release that comes of it.");
        }

        if (release.Doi is null)
            screen.Line("No DOI is in it: where the repository sets one aside, run again with --doi, and the files name it.");
    }

    /// <summary>The shape of a DOI in the Citation File Format 1.2.0.</summary>
    [GeneratedRegex(@"^10\.[0-9]{4,9}(\.[0-9]+)?/[A-Za-z0-9:/_;\-.()\[\]\\]+$", RegexOptions.NonBacktracking)]
    private static partial Regex Doi();
}
