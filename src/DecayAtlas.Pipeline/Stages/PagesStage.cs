using System.Text.RegularExpressions;
using DecayAtlas.Atlas;
using DecayAtlas.Atlas.Releases;
using DecayAtlas.Atlas.Storage;
using DecayAtlas.Contributions;
using DecayAtlas.Grids;
using DecayAtlas.Pages;
using DecayAtlas.Pages.Reading;
using DecayAtlas.Pages.Site;
using DecayAtlas.Pipeline.Configuration;
using DecayAtlas.Pipeline.Flags;
using DecayAtlas.Pipeline.Runs;
using DecayAtlas.Pipeline.Work;

namespace DecayAtlas.Pipeline.Stages;

/// <summary>The current release, its model and map, and what waits in the quarantine -> pages that a browser opens from disk.</summary>
public static partial class PagesStage
{
    /// <summary>Where the pages lie, and whether they were made now.</summary>
    public sealed record Output(string Folder, bool AreNew, int Files) : IStageOutput
    {
        public string Sentence => AreNew ? $"made: {Files} files in {Folder}" : "unchanged, not made again";
    }

    public static Output Run(PipelineConfiguration configuration, PagesSection section, IReadOnlyList<CatalogueEntry> catalogue, Action<string, int, int>? progress)
    {
        var atlas = new AtlasFolder(configuration.Atlas);
        var reader = new ReleaseReader(atlas);
        ReleaseName release = atlas.CurrentRelease()!;
        ReleaseName? before = atlas.ReleaseNames().LastOrDefault(r => r.Number < release.Number);
        IReadOnlyList<SetAsideFacts> aside = SetAsideOf(configuration);
        string? model = FolderOf(atlas.Models), ofStabilisation = FolderOf(atlas.Models, TrainStage.StabilisationLink), map = FolderOf(atlas.Maps);
        var pages = new ReleasePages(atlas, release);
        string key = KeyOf(configuration, section, catalogue, before, aside, [model, ofStabilisation, map]);
        if (pages.AreMadeFrom(key))
            return new Output(pages.Folder, false, 0);

        ReleaseData data = ReleaseData.Read(reader);
        ModelFolder? card = model is null ? null : ModelFolder.Read(model), cardOfStabilisation = ofStabilisation is null ? null : ModelFolder.Read(ofStabilisation);
        string? tif = map is null ? null : Path.Combine(map, MapStage.TifName);
        var inputs = new PagesInputs(
            data,
            before is null ? null : ReleaseData.Read(new ReleaseReader(atlas, before.Id)),
            [.. FlagCatalogue.All.Select(d => new FlagMeaning(d.Code, d.Family, AtlasCode.Of(d.Severity), AtlasCode.Of(d.On), d.Meaning, d.Mend))],
            aside, atlas.FolderOf(release), card, map,
            tif is not null && File.Exists(tif) ? MapRaster.Read(tif) : null,
            configuration.Countries is { } countries ? Outlines.Read(countries) : [],
            catalogue.DistinctBy(c => c.Name).ToDictionary(c => c.Name, c => c.Title, StringComparer.Ordinal))
        {
            StabilisationModel = cardOfStabilisation,
            Answers = ReleasedAnswers.Read(reader),
            Series = SeriesFacts.Of(reader, data.Bags, b => CurveStage.FitsSeries(b.Use, b.UseBecause)),
        };
        var options = new PagesOptions(section.Title, configuration.Publisher, section.Languages, ClimateNames.Of(data, section.Temperature, section.Precipitation));

        int files = pages.Make(key, folder =>
        {
            foreach (SiteFile file in SiteMaker.Make(inputs, options, progress))
                folder.WriteText(file.Path, file.Text);
            AddAll(folder, card?.Folder, "model/");
            AddAll(folder, cardOfStabilisation?.Folder, "model-s/");
            AddAll(folder, map, "map/");
        });
        return new Output(pages.Folder, true, files);
    }

    /// <summary>All that shapes the pages: the releases by their ids, and everything beside them.</summary>
    private static string KeyOf(
        PipelineConfiguration configuration, PagesSection section, IReadOnlyList<CatalogueEntry> catalogue, ReleaseName? before, IReadOnlyList<SetAsideFacts> aside, IEnumerable<string?> made) => WorkKey.Of(
    [
        SharedInputs.CodeIdentity, typeof(SiteMaker).Module.ModuleVersionId.ToString(), typeof(PagesStage).Module.ModuleVersionId.ToString(),
        section.Title, configuration.Publisher, section.Temperature ?? "", section.Precipitation ?? "", before?.ToString() ?? "", .. made.Select(f => Path.GetFileName(f) ?? ""),
        configuration.Countries is { } countries ? GridFingerprint.OfFile(countries) : "",
        .. section.Languages, "titles", .. catalogue.SelectMany(c => new[] { c.Name, c.Title }), "aside", .. aside.Select(a => a.ContentHash),
    ]);

    // a folder's link leads to the folder itself, whose name stands for what is in it
    private static string? FolderOf(string parent, string link = MadeFolder.DefaultLink) => MadeFolder.CurrentIdOf(parent, link) is { } id && Directory.Exists(Path.Combine(parent, id)) ? Path.Combine(parent, id) : null;

    private static void AddAll(PagesFolder folder, string? from, string to)
    {
        foreach (string file in from is null ? [] : Directory.GetFiles(from).Order(StringComparer.Ordinal).ToArray())
            folder.Add(to + Path.GetFileName(file), file);
    }

    private static IReadOnlyList<SetAsideFacts> SetAsideOf(PipelineConfiguration configuration) =>
    [
        .. new Intake(configuration.Atlas, configuration.Limits).SetAside().Select(s => new SetAsideFacts(s.ContentHash, s.ContributionId, [.. s.Findings.Select(f => Of(f, s.Source))])),
    ];

    /// <summary>
    /// Whether advice tells what stood in the cell, as "write 47.31025" does of 47,31025, or may tell what stands in another one: it could
    /// be the exact place of a sensitive site. The pages have words of their own for such a finding.
    /// </summary>
    internal static bool TellsWhatWasFound(Finding finding, string text) => finding.Code == FindingCode.RowsDisagree || Number().Matches(finding.Found)
        .Select(m => Digits(m.Value)).Any(digits => digits.Length >= 3 && Digits(text).Contains(digits, StringComparison.Ordinal));

    private static string Digits(string text) => string.Concat(text.Where(c => char.IsAsciiDigit(c) || char.IsWhiteSpace(c)));

    [GeneratedRegex(@"\d[\d.,]*")]
    private static partial Regex Number();

    /// <summary>A finding without what was found, and without names that a sender gave to files: the pages may be public.</summary>
    private static ToMend Of(Finding finding, string source)
    {
        bool isSchemaFile = Path.GetFileName(finding.File) is "datapackage.json" or "sites.csv" or "lots.csv" or "bags.csv" or "samples.csv";
        return new ToMend(isSchemaFile ? Path.GetFileName(finding.File) : null, finding.Sheet, finding.Row, finding.Column, Plain(finding.Expected), Plain(finding.Mend)) { Code = finding.Code };

        string Plain(string text) => TellsWhatWasFound(finding, text) ? "" : source.Length > 0 ? text.Replace(source, "the contribution", StringComparison.Ordinal) : text;
    }
}
