using DecayAtlas.Questions.Charts;

namespace DecayAtlas.Questions.Siting;

/// <summary>Says where to bury next so that the mean of a region is surer, under the model of the current map.</summary>
public static class SiteReport
{
    private const int MostNamed = 8;

    /// <summary>Reads the current map and release, writes the files into a folder and gives what they say.</summary>
    /// <param name="catalogue">The grids of the map.</param>
    /// <param name="conditions">Season and depth of the map.</param>
    /// <exception cref="AtlasException">The atlas has no map, no release, or not the model of its map.</exception>
    /// <exception cref="ConfigurationException">The polygons cannot be used, or there is no such region.</exception>
    /// <exception cref="GridException">The map or a grid cannot be read.</exception>
    /// <exception cref="PredictionException">The map cannot be used, or no place is left.</exception>
    public static SiteAnswer Run(AtlasFolder atlas, SiteQuestion question, IReadOnlyList<CatalogueEntry> catalogue,
        BurialConditions conditions, ClassChoices choices, string folder, Action<string, int, int>? progress)
    {
        IReadOnlyList<SitedRegion> regions = RegionsOf(question);
        RegionSet? avoid = question.Avoid is { } path ? PolygonFile.Read(path) : null;
        CurrentMap map = CurrentMap.Of(atlas, MapQuantity.DecayRate);
        using RateModel model = CurrentModel.Load(atlas, MapQuantity.DecayRate, map.Summary.ModelId);
        // what is published now: a site may have been marked sensitive after the model was trained
        ReleaseReader release = new(atlas);
        SiteRequest request = new(question.Count, NoiseOf(release, model, question.Burials))
        {
            ApartMetres = 1000 * question.ApartKilometres,
            IsOutsideToo = question.IsOutsideToo,
            IsKriged = question.IsKriged,
            Avoid = avoid,
            Existing =
            [
                .. release.Rows(AtlasTables.Sites).Where(s => s.Use != AtlasCode.Of(Use.Rejected))
                    .Where(s => s is { LatitudeDegrees: not null, LongitudeDegrees: not null })
                    .Select(s => new ExistingSite(new(s.LongitudeDegrees!.Value, s.LatitudeDegrees!.Value), s.IsGeneralised)),
            ],
        };
        ClassChoices ofMap = choices.AsOf(map.Summary);
        PointCovariates covariates = PointCovariates.Of(model, catalogue, ofMap);
        Directory.CreateDirectory(folder);
        SitePlan plan = NextSites.Of(map.Path, model, regions, request, places => covariates.At(places, conditions),
            Path.Combine(folder, SiteFiles.MapName), progress);
        SiteAnswer answer = new(plan, request.Noise, SiteSentences.Cautions(question, avoid),
            SiteSentences.Of(question, plan, request, ofMap.SentenceFor(model.Card)));
        SiteFiles.Write(folder, plan);
        SiteFiles.WriteFigure(folder, SiteGainChart.Of(plan).Draw());
        return answer;
    }

    private static IReadOnlyList<SitedRegion> RegionsOf(SiteQuestion question)
    {
        if (question.Polygons is not { } path)
        {
            return question.Region is null ? [new SitedRegion("the whole map", null)]
                : throw new ConfigurationException($"--region {question.Region} names a polygon, and there are none; give a file with "
                    + "--polygons, or name one in map.regions.");
        }

        Region[] regions = [.. PolygonFile.Read(path, question.NameProperty).Regions];
        if (regions.GroupBy(r => r.Name, StringComparer.Ordinal).FirstOrDefault(g => g.Count() > 1) is { } twice)
        {
            throw new ConfigurationException($"{path} has {twice.Count()} polygons of the name '{twice.Key}'; name them by another "
                + "property with --name, or join them.");
        }

        if (question.Region is not { } asked)
            return [.. regions.Select(r => new SitedRegion(r.Name, r.Shape))];
        string[] names = [.. regions.Select(r => r.Name)];
        if (regions.FirstOrDefault(r => r.Name == asked) is { } found)
            return [new SitedRegion(found.Name, found.Shape)];
        string nearest = Nearest.Of(asked, names) is { } near ? $"; the nearest name is '{near}'" : "";
        throw new ConfigurationException($"{path} has no polygon '{asked}'{nearest}; it has "
            + string.Join(", ", names.Take(MostNamed).Select(n => $"'{n}'"))
            + (names.Length > MostNamed ? $" and {names.Length - MostNamed} more." : "."));
    }

    /// <summary>What burials scatter by, pooled over the weighed means of the release; the rest of what its rows are measured wrong by is
    /// of batches.</summary>
    private static SiteNoise NoiseOf(ReleaseReader release, RateModel model, int burials)
    {
        ReleasedSiteCampaign[] means =
        [
            .. release.Rows(AtlasTables.SiteCampaigns)
                .Where(c => c.IsUntreated && c.LnRateBurials > 0 && c.Evidence == AtlasCode.Of(EvidenceKind.Weighed)),
        ];
        ReleasedSiteCampaign[] replicated = [.. means.Where(m => m is { LnRateBurials: > 1, LnRateSd: not null })];
        double freedom = replicated.Sum(m => m.LnRateBurials - 1.0), ofRows = model.Card.Findings.Parts.OfRows;
        if (freedom == 0)
            return new(ofRows, 0);
        double ofBurial = replicated.Sum(m => (m.LnRateBurials - 1) * m.LnRateSd!.Value * m.LnRateSd.Value) / freedom;
        return new(ofBurial / burials, Math.Max(0, ofRows - ofBurial * means.Average(m => 1.0 / m.LnRateBurials)));
    }
}
