namespace DecayAtlas.Pipeline.Work;

/// <summary>Where to sample: the exact point, and the radius that holds the true place (m), where stated.</summary>
internal readonly record struct SnapPlace(GeoPoint Point, double? UncertaintyMetres);

/// <summary>Where to sample, and for dated series also when.</summary>
/// <param name="Places">Places, each once.</param>
/// <param name="Exposures">The days that bags lay at a place, each once.</param>
internal sealed record Stays(IReadOnlyCollection<SnapPlace> Places, IReadOnlyCollection<(SnapPlace Place, ExposureDays Days)> Exposures)
{
    public static Stays Of(IEnumerable<Stays> stays)
    {
        Stays[] all = [.. stays];
        return new Stays([.. all.SelectMany(s => s.Places).Distinct()], [.. all.SelectMany(s => s.Exposures).Distinct()]);
    }

    /// <summary>The stays of one contributor: what one contribution buries at a site may lie where another describes the site.</summary>
    public static Stays Of(IReadOnlyList<Survey> surveys)
    {
        ILookup<string, SnapPlace> places = surveys.SelectMany(s => s.Places).ToLookup(p => p.SiteId, p => p.Place, StringComparer.Ordinal);
        return new Stays(
            [.. places.SelectMany(p => p).Distinct()],
            [.. surveys.SelectMany(s => s.Exposures).SelectMany(e => places[e.SiteId].Select(place => (place, new ExposureDays(e.BuriedOn, e.RetrievedOn)))).Distinct()]);
    }
}
