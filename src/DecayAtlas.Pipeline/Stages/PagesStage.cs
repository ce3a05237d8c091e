namespace DecayAtlas.Pipeline.Stages;

/// <summary>The current release, its model and map, and what waits in the quarantine -> pages that a browser opens from disk.</summary>
public static class PagesStage
{
    /// <summary>Where the pages lie, and whether they were made now.</summary>
    /// <param name="Failed">Pages that say instead that they could not be made.</param>
    public sealed record Output(string Folder, bool AreNew, int Files, IReadOnlyList<FailedPage> Failed) : IStageOutput
    {
        public string Sentence => AreNew
            ? $"made: {Files} files in {Folder}{(Failed.Count == 0 ? "" : $", {Failed.Count} of them failed")}"
            : "unchanged, not made again";
    }

    /// <summary>What the flags mean, for those who read pages and mails.</summary>
    internal static IReadOnlyList<FlagMeaning> FlagMeanings { get; } =
    [
        .. FlagCatalogue.All.Select(d => new FlagMeaning(
            d.Code, AtlasCode.Of(d.Family), AtlasCode.Of(d.Severity), AtlasCode.Of(d.On), d.Meaning, d.Mend)
        {
            IsToCheck = d.AsksForALook,
            IsAsTold = d.IsAsTold,
            IsOfLot = d.IsOfLot,
        }),
    ];

    public static Output Run(PipelineConfiguration configuration, PagesSection section, IReadOnlyList<CatalogueEntry> catalogue,
        Action<string, int, int>? progress)
    {
        AtlasFolder atlas = new(configuration.Atlas);
        ReleaseName release = atlas.CurrentRelease()!;
        ReleaseName? before = atlas.ReleaseNames().LastOrDefault(r => r.Number < release.Number);
        IReadOnlyList<PublicIntake> aside = SetAsideOf(configuration);
        string? model = FolderOf(atlas.Models), ofStabilisation = FolderOf(atlas.Models, MapQuantity.Stabilisation.Link),
            map = FolderOf(atlas.Maps), second = SecondMapOf(atlas, ofStabilisation), joint = JointStep.FolderOf(atlas, map, second);
        ReleasePages pages = new(atlas, release);
        string key = KeyOf(configuration, section, catalogue, before, aside, [model, ofStabilisation, map, second, joint]);
        if (pages.AreMadeFrom(key))
            return new Output(pages.Folder, false, 0, []);

        // what pages tell of a release they tell from the same rows, which are in memory once
        ReleaseReader reader = new(atlas, release.Id, keepsRows: true);
        ReleaseReader? readerBefore = before is null ? null : new(atlas, before.Id, keepsRows: true);
        ReleaseData data = ReleaseData.Read(reader);
        ModelFolder? card = model is null ? null : ModelFolder.Read(model),
            cardOfStabilisation = ofStabilisation is null ? null : ModelFolder.Read(ofStabilisation);
        MapRaster? raster = RasterOf(map, MapQuantity.DecayRate);
        PagesInputs inputs = new(
            data,
            readerBefore is null ? null : ReleaseData.Read(readerBefore),
            FlagMeanings,
            aside, atlas.FolderOf(release), card, map,
            raster,
            configuration.Countries is { } countries ? Outlines.Read(countries) : [],
            catalogue.Select(c => (c.Name, c.Title)).Concat(StatedWord.All.Select(w => (w.Name, w.Title))).DistinctBy(c => c.Name)
                .ToDictionary(c => c.Name, c => c.Title, StringComparer.Ordinal))
        {
            Description = ReleaseDescription.Of(reader, configuration.GroupTitles),
            Changes = readerBefore is null ? null : ReleaseChanges.Of(readerBefore, reader),
            StabilisationModel = cardOfStabilisation,
            StabilisationMapFolder = second,
            StabilisationRaster = RasterOf(second, MapQuantity.Stabilisation),
            Relief = raster is null || HeightsOf(section, catalogue) is not { } heights ? null : ReliefOf(raster, heights),
            Places = PlacesOf(configuration),
            Joint = joint is null ? null : FactsOf(joint),
            MapWithoutNoted = map is null ? null : WithoutNotedOf(map),
            MapAsIf = map is not null && MapStage.SummaryOf(map) is { AsIf: { } chosen }
                ? [.. chosen.OrderBy(c => c.Key, StringComparer.Ordinal).Select(c => new AsIfFacts(c.Key, c.Value))] : [],
            Answers = ReleasedAnswers.Read(reader),
            // the newest stands last, and is what is sent for now
            Campaign = configuration.CampaignPaths is [.., var campaign]
                ? new BuiltInCampaign(Path.GetFileName(campaign), CampaignReader.ForPages(campaign)) : null,
            Titles = TitlesOf(configuration),
            Guesses = GuessesOf(configuration),
            GroupsOfSetAside = GroupsOfSetAside(configuration),
            ScatterOfLnK = configuration.Campaigns.Where(c => c.Experiment?.ScatterOfLnK is not null)
                .ToDictionary(c => c.Id, c => c.Experiment!.ScatterOfLnK!.Value, StringComparer.Ordinal),
            Series = SeriesFacts.Of(reader, data.Bags),
        };
        PagesOptions options = new(section.Title, configuration.Publisher, section.Languages,
            ClimateNames.Of(data, section.Temperature, section.Precipitation));

        List<FailedPage> failed = [];
        ReleaseExports exports = new(atlas, release);
        int files = pages.Make(key, folder =>
        {
            if (exports.Rows <= section.DownloadRows)
                inputs = inputs with { Downloads = folder.Fill(PagesInputs.DownloadFolder, to => exports.WriteTo(to, null, progress)) };
            foreach (SiteFile file in SiteMaker.Make(inputs, options, progress, failed.Add))
                folder.WriteText(file.Path, file.Text);
            if (failed.Count > 0)
                folder.MarkIncomplete();
            AddAll(folder, card?.Folder, "model/");
            AddAll(folder, cardOfStabilisation?.Folder, "model-s/");
            AddAll(folder, map, "map/");
            AddAll(folder, second, "map-s/");
            AddAll(folder, joint, "map-joint/");
        });
        return new Output(pages.Folder, true, files, failed);
    }

    /// <summary>All that shapes the pages: the releases by their ids, and everything beside them.</summary>
    private static string KeyOf(
        PipelineConfiguration configuration, PagesSection section, IReadOnlyList<CatalogueEntry> catalogue, ReleaseName? before,
        IReadOnlyList<PublicIntake> aside, IEnumerable<string?> made) => InputDigest.Of(
    [
        SharedInputs.CodeIdentity, typeof(SiteMaker).Module.ModuleVersionId.ToString(),
        typeof(PagesStage).Module.ModuleVersionId.ToString(),
        section.DownloadRows.ToString(InvariantCulture),
        section.Title.Plain, .. section.Title.ByLanguage.OrderBy(t => t.Key, StringComparer.Ordinal)
            .SelectMany(t => new[] { t.Key, t.Value }),
        configuration.Publisher, section.Temperature ?? "", section.Precipitation ?? "", before?.ToString() ?? "",
            .. made.Select(f => Path.GetFileName(f) ?? ""),
        configuration.Countries is { } countries ? GridFingerprint.OfFile(countries) : "",
        configuration.Map?.Regions is { } regions ? GridFingerprint.OfFile(regions) + configuration.Map.RegionName : "",
        HeightsOf(section, catalogue) is { } heights ? GridInput.Of(heights, GridFingerprint.OfFile).Digest : "",
        .. section.Languages, "titles", .. catalogue.SelectMany(c => new[] { c.Name, c.Title }),
        "campaigns", .. configuration.CampaignPaths.Select(GridFingerprint.OfFile),
        "aside", .. aside.SelectMany(a => a.Findings.Select(f => f.ToString()).Prepend(a.Name).Prepend(a.ContentHash!)),
    ]);

    /// <exception cref="ConfigurationException">The covariate that is named is none of the catalogue, or no one grid.</exception>
    private static CatalogueEntry? HeightsOf(PagesSection section, IReadOnlyList<CatalogueEntry> catalogue)
    {
        if (section.Relief is null)
        {
            return catalogue.FirstOrDefault(c => c is { Unit: "m", IsClass: false } && IsOneGrid(c)
                && (c.Name.Contains("elevation", StringComparison.Ordinal) || c.Name.Contains("height", StringComparison.Ordinal)));
        }

        return catalogue.FirstOrDefault(c => c.Name == section.Relief && IsOneGrid(c))
            ?? throw new ConfigurationException($"pages.relief is {section.Relief}, which is no covariate of one grid in the catalogue; "
                + $"expected one of {string.Join(", ", catalogue.Where(IsOneGrid).Select(c => c.Name))}.");
    }

    private static bool IsOneGrid(CatalogueEntry entry) => !entry.DependsOnBurial && entry.Made.Declared is [{ WhyNoGrid: null }];

    private static Relief ReliefOf(MapRaster raster, CatalogueEntry heights)
    {
        using Grid grid = GridFile.Open(heights.Made.Declared[0].Path, heights.Made.Declared[0].Options);
        return Relief.Of(MapCells.Of(raster), grid);
    }

    // countries and regions of the map, each name once
    private static IReadOnlyList<NamedPlace> PlacesOf(PipelineConfiguration configuration) =>
    [
        .. (configuration.Countries is { } countries ? NamedPlaces.Read(countries) : [])
            .Concat(configuration.Map?.Regions is { } regions ? NamedPlaces.Read(regions, configuration.Map.RegionName) : [])
            .DistinctBy(p => p.Name),
    ];

    private static GivenTitles TitlesOf(PipelineConfiguration configuration) => new(configuration.GroupTitles,
        configuration.Campaigns.Where(c => c.Title is not null).ToDictionary(c => c.Id, c => c.Title!));

    // a folder's link leads to the folder itself, whose name stands for what is in it
    private static string? FolderOf(string parent, string link = MadeFolder.DefaultLink) => MadeFolder.CurrentIdOf(parent, link) is { } id
        && Directory.Exists(Path.Combine(parent, id)) ? Path.Combine(parent, id) : null;

    private static MapShiftFacts? WithoutNotedOf(string map) =>
        MapStage.SummaryOf(map) is { WithoutNoted: { MedianFactor: { } median, Factor95: { } most } shift }
            ? new(shift.Cells, median, most) : null;

    // a map of a model that is current no longer has nothing to say beside the current one
    private static string? SecondMapOf(AtlasFolder atlas, string? model) =>
        model is not null && FolderOf(atlas.Maps, MapQuantity.Stabilisation.Link) is { } map
        && MapStage.SummaryOf(map)?.ModelId == Path.GetFileName(model) ? map : null;

    private static MapRaster? RasterOf(string? map, MapQuantity of) =>
        map is not null && Path.Combine(map, of.TifName) is var tif && File.Exists(tif) ? MapRaster.Read(tif) : null;

    private static JointFacts FactsOf(string folder)
    {
        JointSummary made = JointStep.SummaryOf(folder)!;
        return new(folder, made.Cuts.RatePerDay, made.Cuts.HalfLifeDays, made.Cuts.Stabilisation, made.Correlation,
            made.ApplicableSquareKilometres, made.ToldSquareKilometres,
            [.. made.Classes.Select(c => new JointClassFacts(c.Code, c.Name, c.SquareKilometres, c.ToldSquareKilometres))]);
    }

    private static void AddAll(PagesFolder folder, string? from, string to)
    {
        foreach (string file in from is null ? [] : Directory.GetFiles(from).Order(StringComparer.Ordinal).ToArray())
            folder.Add(to + Path.GetFileName(file), file);
    }

    private static Dictionary<string, ToldGuesses> GuessesOf(PipelineConfiguration configuration)
    {
        Intake intake = new(configuration.Atlas, configuration.Limits, mayWrite: false);
        return intake.ActiveHeaders().Select(header => (header.ContributionId, Guesses: intake.GuessesOf(header)))
            .Where(one => one.Guesses is not null).ToDictionary(one => one.ContributionId, one => new ToldGuesses(
                one.Guesses!.Format == ContributionFormat.Kit,
                [.. one.Guesses.Findings.Select(PublicFinding.Of).OfType<PublicFinding>()]), StringComparer.Ordinal);
    }

    private static Dictionary<string, string> GroupsOfSetAside(PipelineConfiguration configuration) =>
        new Intake(configuration.Atlas, configuration.Limits, mayWrite: false).StillOpen().Where(open => open.ContentHash.Length > 0)
            .Select(open => (open.ContentHash, Title: CampaignFiles.TitleOfGroup(configuration.Campaigns, open.ContributorId)))
            .Where(open => open.Title is not null).ToDictionary(open => open.ContentHash, open => open.Title!, StringComparer.Ordinal);

    private static IReadOnlyList<PublicIntake> SetAsideOf(PipelineConfiguration configuration) =>
    [
        .. new Intake(configuration.Atlas, configuration.Limits).StillOpen().Select(PublicIntake.Of)
            .Where(aside => aside.ContentHash is not null),
    ];
}
