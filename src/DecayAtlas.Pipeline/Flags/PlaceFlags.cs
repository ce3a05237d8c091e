using static DecayAtlas.Atlas.Records.Severity;

namespace DecayAtlas.Pipeline.Flags;

/// <summary>Where a site can't be, probably is not, or is not known well enough.</summary>
internal static class PlaceFlags
{
    public static IReadOnlyList<FlagDefinition> All =>
    [
        new CoordinatesImpossible(), new CoordinatesZero(), new CoordinatesSwapped(), new CoordinatesCoarse(), new CoordinatesUnstated(),
        new FarFromCountry(), new SiteMoved(), new CovariateMissing(), new CountryUnknown(),
        new WordUnmapped(),
    ];
}

internal sealed record CoordinatesImpossible() : SiteFlag(
    "coordinates-impossible", Reject,
    "Latitude is beyond 90 degrees or longitude beyond 180.",
    "|decimal_latitude| > 90 or |decimal_longitude| > 180.",
    "Check both, the sign, and the decimal point.")
{
    protected override Grounds? Judge(Site site, FlagInputs inputs)
    {
        (double latitude, double longitude) = (site.Row.DecimalLatitude, site.Row.DecimalLongitude);
        return Math.Abs(latitude) > 90 ? new($"Latitude {latitude}, longitude {longitude}.", latitude, 90, "degrees")
            : Math.Abs(longitude) > 180 ? new($"Latitude {latitude}, longitude {longitude}.", longitude, 180, "degrees")
            : null;
    }
}

internal sealed record CoordinatesZero() : SiteFlag(
    "coordinates-zero", Reject,
    "Both coordinates are exactly zero, which is open ocean and the usual sign of an empty cell.",
    "decimal_latitude = 0 and decimal_longitude = 0.",
    "Send the coordinates.")
{
    protected override Grounds? Judge(Site site, FlagInputs inputs) =>
        site.Row is { DecimalLatitude: 0, DecimalLongitude: 0 } ? new("Latitude and longitude are both zero.", 0, null, "degrees") : null;
}

internal sealed record CoordinatesSwapped() : SiteFlag(
    "coordinates-swapped", Suspect,
    "Latitude and longitude look exchanged.",
    "exchanged, the point lies in the stated country, or within country_distance_m of it, and as sent it does not; without country "
    + "outlines: |latitude| > 90 and |longitude| ≤ 90.",
    "Exchange the two columns.")
{
    protected override Grounds? Judge(Site site, FlagInputs inputs)
    {
        (double latitude, double longitude) = (site.Row.DecimalLatitude, site.Row.DecimalLongitude);
        double allowed = inputs.Flags.OfType<FarFromCountry>().Single().AllowedMetres(site);
        bool isSwapped = inputs.Countries is null || site.Row.CountryCode is null
            ? Math.Abs(latitude) > 90 && Math.Abs(longitude) <= 90 && Math.Abs(latitude) <= 180
            : FarFromCountry.Distance(site, new GeoPoint(latitude, longitude), inputs) <= allowed
                && !(FarFromCountry.Distance(site, site.ExactPoint, inputs) <= allowed);
        return isSwapped
            ? new($"Latitude {latitude}, longitude {longitude}; exchanged they would fit {site.Row.CountryCode ?? "the globe"}.") : null;
    }
}

internal sealed record CoordinatesCoarse() : SiteFlag(
    "coordinates-coarse", Suspect,
    "The place is known too roughly to say which soil and climate it has.",
    "coordinate_uncertainty_m > coordinate_uncertainty_max_m.",
    "Read the place from a map or a phone.")
{
    [Setting("coordinate_uncertainty_max_m", "metres above 0", "Roughest place", Above = 0)]
    public double CoordinateUncertaintyMaxMetres { get; init; } = 5000;

    protected override Grounds? Judge(Site site, FlagInputs inputs) =>
        site.Row.CoordinateUncertaintyMetres is { } uncertainty && uncertainty > CoordinateUncertaintyMaxMetres
            ? new($"The place is known to {uncertainty:0} m.", uncertainty, CoordinateUncertaintyMaxMetres, "m")
            : null;
}

internal sealed record CoordinatesUnstated() : SiteFlag(
    "coordinates-unstated", Note,
    "How well the place is known was not sent.",
    "coordinate_uncertainty_m is empty.",
    "Send it; a phone shows it beside the coordinates.")
{
    protected override Grounds? Judge(Site site, FlagInputs inputs) =>
        site.Row.CoordinateUncertaintyMetres is null ? new("The coordinate uncertainty was not sent.") : null;
}

internal sealed record FarFromCountry() : SiteFlag(
    "far-from-country", Suspect,
    "The site lies far from the country it says it is in.",
    "distance to the outline of country_code > country_distance_m + stated uncertainty.",
    "Check the coordinates and the country code.")
{
    [Setting("country_distance_m", "metres, 0 or more", "Furthest that a site may lie from its country", Least = 0)]
    public double CountryDistanceMetres { get; init; } = 10_000;

    internal double AllowedMetres(Site site) => CountryDistanceMetres + (site.Row.CoordinateUncertaintyMetres ?? 0);

    /// <summary>From a point that is on the globe to the country that the site states (m), where there is an outline of it.</summary>
    internal static double? Distance(Site site, GeoPoint point, FlagInputs inputs) =>
        site.Row.CountryCode is { } country && Math.Abs(point.LatitudeDegrees) <= 90 && Math.Abs(point.LongitudeDegrees) <= 180
            ? inputs.Countries?.DistanceMetres(country, point)
            : null;

    protected override Grounds? Judge(Site site, FlagInputs inputs) =>
        Distance(site, site.ExactPoint, inputs) is { } distance && distance > AllowedMetres(site)
            ? new($"{distance / 1000:0.0} km from {site.Row.CountryCode}.", distance, AllowedMetres(site), "m")
            : null;
}

internal sealed record SiteMoved() : SiteFlag(
    "site-moved", Suspect,
    "Two contributions of one group give the same site different places.",
    "distance > site_moved_m + both stated uncertainties.",
    "Give the new place a site id of its own, or correct the coordinates.")
{
    [Setting("site_moved_m", "metres, 0 or more", "Furthest that one site may move between contributions", Least = 0)]
    public double SiteMovedMetres { get; init; } = 200;

    protected override IEnumerable<(Site Site, Grounds Grounds)> Judge(FlagInputs inputs)
    {
        Dictionary<string, Site> newest = inputs.Sites.ToDictionary(s => s.Key, StringComparer.Ordinal);
        HashSet<string> told = new(StringComparer.Ordinal);
        foreach (Contribution contribution in inputs.Contributions)
        {
            foreach (SiteRow row in contribution.Sites)
            {
                Site site = newest[Site.KeyOf(contribution.Header.ContributorId, row.SiteId)];
                if (site.ContributionId == contribution.Header.ContributionId)
                    continue;
                double distance = site.ExactPoint.GroundDistanceMetres(new GeoPoint(row.DecimalLongitude, row.DecimalLatitude));
                double limit = SiteMovedMetres + (row.CoordinateUncertaintyMetres ?? 0) + (site.Row.CoordinateUncertaintyMetres ?? 0);
                if (distance > limit && told.Add(site.Key))
                {
                    yield return
                        (site, new($"{distance:0} m from where contribution {contribution.Header.ContributionId} has it.", distance, limit,
                            "m"));
                }
            }
        }
    }
}

internal sealed record CovariateMissing() : SiteFlag(
    "covariate-missing", Suspect,
    "At least one grid has no value at the site or near it. The site may lie in the sea, or outside the grids.",
    "a covariate is missing after the catalogue's search distance.",
    "Check the coordinates; else ask for a grid that reaches the site.")
{
    protected override IEnumerable<(Site Site, Grounds Grounds)> Judge(FlagInputs inputs)
    {
        ILookup<string, string> missing = inputs.Covariates.Where(c => !c.IsKnown)
            .ToLookup(c => c.SiteKey, c => c.Covariate, StringComparer.Ordinal);
        return inputs.Sites.Where(s => missing.Contains(s.Key))
            .Select(s => (s, new Grounds($"No value for {string.Join(", ", missing[s.Key])}.", missing[s.Key].Count(), 0)));
    }
}

internal sealed record CountryUnknown() : SiteFlag(
    "country-unknown", Note,
    "The outlines of the run have no country of this code, so that the place could not be held against it.",
    "country_code is given and is not in the file countries.",
    "Check the code: ISO 3166-1, two letters. If it is right, ask the curator for a larger file of outlines.")
{
    protected override Grounds? Judge(Site site, FlagInputs inputs) =>
        inputs.Countries is { } outlines && site.Row.CountryCode is { } code && !outlines.Has(code) ? new($"No outline for {code}.") : null;
}

internal sealed record WordUnmapped() : SiteFlag(
    "word-unmapped", Note,
    "A word for the site or the treatment of a plot is none of the vocabulary, and nobody mapped it: it is released as it was sent, "
    + "without the code of an open vocabulary, and compared as a group of its own. Of a site marked sensitive it is not released; its "
    + "treatment is then called other.",
    "ecosystem, land_use or management, or the treatment of a bag or result of the site, is neither a word of "
    + "schemas/v1/vocabulary.json, in whatever spelling, nor mapped in the file vocabulary.",
    "Write the word that is close, or have the curator map it in the file vocabulary of the configuration.")
{
    protected override IEnumerable<(Site Site, Grounds Grounds)> Judge(FlagInputs inputs)
    {
        // as sent: what is told of a sensitive site has the word "other" in its place
        ILookup<string, string> treatments = inputs.Contributions
            .SelectMany(c => c.Bags.Select(b => (b.SiteId, b.Treatment)).Concat(c.Results.Select(r => (r.SiteId, r.Treatment)))
                .Select(t => (SiteKey: Site.KeyOf(c.Header.ContributorId, t.SiteId), t.Treatment)))
            .Where(t => t.Treatment is not null).Distinct()
            .ToLookup(t => t.SiteKey, t => t.Treatment!, StringComparer.Ordinal);
        foreach (Site site in inputs.Sites)
        {
            string[] strange =
            [
                .. new[]
                {
                    Strange(Vocabulary.Ecosystem, site.Row.Ecosystem), Strange(Vocabulary.LandUse, site.Row.LandUse),
                    Strange(Vocabulary.Management, site.Row.Management),
                }.Concat(treatments[site.Key].Order(StringComparer.Ordinal).Select(t => Strange(Vocabulary.Treatment, t))).OfType<string>(),
            ];
            if (strange.Length > 0)
                yield return (site, new Grounds($"Not of the vocabulary: {string.Join("; ", strange)}.", strange.Length, 0));
        }
    }

    private static string? Strange(WordList list, string? word) => word is null || list.Find(word) is not null ? null
        : $"{list.Name} {word}" + (list.NearestTo(word) is { } near ? $" ({near} is close)" : "");
}
