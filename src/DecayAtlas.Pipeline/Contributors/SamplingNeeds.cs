namespace DecayAtlas.Pipeline.Contributors;

/// <summary>Where to sample, and for dated series also when.</summary>
/// <param name="Exposures">The days that bags lay at a place, each once.</param>
internal sealed record SamplingNeeds(IReadOnlyCollection<SnapPlace> Places,
    IReadOnlyCollection<(SnapPlace Place, ExposureDays Days)> Exposures)
{
    public static SamplingNeeds Of(IEnumerable<SamplingNeeds> needs)
    {
        SamplingNeeds[] all = [.. needs];
        return new SamplingNeeds([.. all.SelectMany(s => s.Places).Distinct()], [.. all.SelectMany(s => s.Exposures).Distinct()]);
    }

    /// <summary>The needs of one contributor: what one contribution buries at a site may lie where another describes the site.</summary>
    public static SamplingNeeds Of(IReadOnlyList<ContributionOutline> outlines)
    {
        ILookup<string, SnapPlace> places = outlines.SelectMany(s => s.Places)
            .ToLookup(p => p.SiteId, p => p.Place, StringComparer.Ordinal);
        return new SamplingNeeds(
            [.. places.SelectMany(p => p).Distinct()],
            [.. outlines.SelectMany(s => s.Exposures)
                .SelectMany(e => places[e.SiteId].Select(place => (place, new ExposureDays(e.BuriedOn, e.RetrievedOn)))).Distinct()]);
    }
}
