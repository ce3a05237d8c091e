namespace DecayAtlas.Pipeline.Work;

/// <summary>The little of a contribution that others need to know: its lots' chemistry and where its sites lie.</summary>
/// <param name="Code">The build that made it; another may ask for more.</param>
/// <param name="Lots">Lot id and hydrolysable fraction.</param>
/// <param name="Places">Where each site lies, exact: the cache is as private as the intake.</param>
/// <param name="Exposures">The days that bags lay at each site, each once.</param>
/// <param name="SensitiveSites">Ids of the sites that it marks sensitive.</param>
internal sealed record Survey(
    string Code, IReadOnlyList<SurveyedLot> Lots, IReadOnlyList<SurveyedPlace> Places,
    IReadOnlyList<SurveyedExposure> Exposures, IReadOnlyList<string> SensitiveSites);

internal sealed record SurveyedLot(string LotId, double HydrolysableFraction);

internal sealed record SurveyedPlace(string SiteId, SnapPlace Place);

internal sealed record SurveyedExposure(string SiteId, DateOnly BuriedOn, DateOnly RetrievedOn);

/// <summary>Surveys by content hash, made once for each accepted content.</summary>
internal sealed class SurveyMemory(AtlasFolder atlas, Func<ContributionHeader, Contribution> read)
{
    /// <summary>The surveys of contributions, by content hash, and why there is none of those that could not be read.</summary>
    public (IReadOnlyDictionary<string, Survey> Made, IReadOnlyDictionary<ContributionHeader, Wall.Hit> NotMade) Of(IReadOnlyList<ContributionHeader> headers)
    {
        var surveys = new Survey?[headers.Count];
        var hits = new Wall.Hit?[headers.Count];
        Parallel.For(0, headers.Count, i =>
        {
            surveys[i] = CacheFile.Load<Survey>(PathOf(atlas, headers[i].ContentHash)) is { } known && known.Code == SharedInputs.CodeIdentity
                ? known
                : Wall.Round(() => Make(headers[i]), out hits[i]);
        });
        var made = new Dictionary<string, Survey>(StringComparer.Ordinal);
        var notMade = new Dictionary<ContributionHeader, Wall.Hit>();
        for (int i = 0; i < headers.Count; i++)
        {
            if (surveys[i] is { } survey)
                made[headers[i].ContentHash] = survey;
            else
                notMade[headers[i]] = hits[i]!;
        }

        return (made, notMade);
    }

    private Survey Make(ContributionHeader header)
    {
        Contribution contribution = read(header);
        Remember(atlas, contribution);
        return Of(contribution);
    }

    /// <summary>Surveys a contribution that is at hand, so that it need not be read for it later.</summary>
    public static void Remember(AtlasFolder atlas, Contribution contribution) => CacheFile.Save(PathOf(atlas, contribution.Header.ContentHash), Of(contribution));

    private static Survey Of(Contribution contribution) => new(
        SharedInputs.CodeIdentity,
        [.. contribution.Lots.Select(l => new SurveyedLot(l.LotId, l.HydrolysableFraction))],
        [.. contribution.Sites.Select(s => new SurveyedPlace(s.SiteId, new SnapPlace(new GeoPoint(s.DecimalLongitude, s.DecimalLatitude), s.CoordinateUncertaintyMetres)))],
        [.. contribution.Bags.Where(b => b.RetrievedOn > b.BuriedOn).Select(b => new SurveyedExposure(b.SiteId, b.BuriedOn, b.RetrievedOn!.Value)).Distinct()
            .OrderBy(e => e.SiteId, StringComparer.Ordinal).ThenBy(e => e.BuriedOn).ThenBy(e => e.RetrievedOn)],
        [.. contribution.Sites.Where(s => s.CoordinatesSensitive == true).Select(s => s.SiteId).Order(StringComparer.Ordinal)]);

    private static string PathOf(AtlasFolder atlas, string contentHash) => Path.Combine(atlas.Cache, "surveys", contentHash + ".json");
}
