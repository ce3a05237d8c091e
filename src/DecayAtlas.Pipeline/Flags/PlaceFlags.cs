using static DecayAtlas.Pipeline.Flags.FlagCatalogue;

namespace DecayAtlas.Pipeline.Flags;

/// <summary>Where a site can't be, probably is not, or is not known well enough.</summary>
internal static class PlaceFlags
{
    public static IEnumerable<Flag> Raise(FlagInputs inputs)
    {
        ILookup<string, CovariateValue> missing = inputs.Covariates.Where(c => !c.IsKnown).ToLookup(c => c.SiteKey, StringComparer.Ordinal);
        foreach (Site site in inputs.Sites)
        {
            foreach (Flag flag in OfSite(site, inputs))
                yield return flag;

            string[] names = [.. missing[site.Key].Select(c => c.Covariate)];
            if (names.Length > 0)
                yield return Of(site, CovariateMissing, $"No value for {string.Join(", ", names)}.", names.Length, 0, null);
        }

        foreach (Flag flag in Moved(inputs))
            yield return flag;
    }

    private static IEnumerable<Flag> OfSite(Site site, FlagInputs inputs)
    {
        SiteRow row = site.Row;
        double latitude = row.DecimalLatitude, longitude = row.DecimalLongitude;
        bool isPossible = Math.Abs(latitude) <= 90 && Math.Abs(longitude) <= 180;
        if (!isPossible)
        {
            yield return Of(site, CoordinatesImpossible, $"Latitude {latitude}, longitude {longitude}.",
                Math.Abs(latitude) > 90 ? latitude : longitude, Math.Abs(latitude) > 90 ? 90 : 180, "degrees");
        }

        if (latitude == 0 && longitude == 0)
            yield return Of(site, CoordinatesZero, "Latitude and longitude are both zero.", 0, null, "degrees");

        double allowed = inputs.Options.CountryDistanceMetres + (row.CoordinateUncertaintyMetres ?? 0);
        double? distance = Distance(site.ExactPoint);
        double? exchanged = Distance(new GeoPoint(latitude, longitude));
        bool isSwapped = inputs.Countries is null || row.CountryCode is null
            ? Math.Abs(latitude) > 90 && Math.Abs(longitude) <= 90 && Math.Abs(latitude) <= 180
            : exchanged <= allowed && !(distance <= allowed);
        if (isSwapped)
            yield return Of(site, CoordinatesSwapped, $"Latitude {latitude}, longitude {longitude}; exchanged they would fit {row.CountryCode ?? "the globe"}.");
        if (inputs.Countries is { } outlines && row.CountryCode is { } code && !outlines.Has(code))
            yield return Of(site, CountryUnknown, $"No outline for {code}.");
        if (distance > allowed)
        {
            yield return Of(site, FarFromCountry, $"{distance / 1000:0.0} km from {row.CountryCode}.", distance, allowed, "m");
        }

        if (row.CoordinateUncertaintyMetres is not { } uncertainty)
        {
            yield return Of(site, CoordinatesUnstated, "The coordinate uncertainty was not sent.");
        }
        else if (uncertainty > inputs.Options.CoordinateUncertaintyMaxMetres)
        {
            yield return Of(site, CoordinatesCoarse, $"The place is known to {uncertainty:0} m.",
                uncertainty, inputs.Options.CoordinateUncertaintyMaxMetres, "m");
        }

        double? Distance(GeoPoint point) =>
            row.CountryCode is { } country && Math.Abs(point.LatitudeDegrees) <= 90 && Math.Abs(point.LongitudeDegrees) <= 180
                ? inputs.Countries?.DistanceMetres(country, point)
                : null;
    }

    private static IEnumerable<Flag> Moved(FlagInputs inputs)
    {
        Dictionary<string, Site> newest = inputs.Sites.ToDictionary(s => s.Key, StringComparer.Ordinal);
        var told = new HashSet<string>(StringComparer.Ordinal);
        foreach (Contribution contribution in inputs.Contributions)
        {
            foreach (SiteRow row in contribution.Sites)
            {
                Site site = newest[Site.KeyOf(contribution.Header.ContributorId, row.SiteId)];
                if (site.ContributionId == contribution.Header.ContributionId)
                    continue;
                double distance = site.ExactPoint.GroundDistanceMetres(new GeoPoint(row.DecimalLongitude, row.DecimalLatitude));
                double limit = inputs.Options.SiteMovedMetres + (row.CoordinateUncertaintyMetres ?? 0) + (site.Row.CoordinateUncertaintyMetres ?? 0);
                if (distance > limit && told.Add(site.Key))
                    yield return Of(site, SiteMoved, $"{distance:0} m from where contribution {contribution.Header.ContributionId} has it.", distance, limit, "m");
            }
        }
    }

    private static Flag Of(Site site, FlagDefinition definition, string explanation, double? measured = null, double? limit = null, string? unit = null) =>
        // a flag is published: it must not tell where a sensitive site lies
        site.Row.CoordinatesSensitive == true
            ? definition.Raise(site.ContributionId, site.Row.SiteId, "Numbers withheld: the site is marked sensitive.")
            : definition.Raise(site.ContributionId, site.Row.SiteId, explanation, measured, limit, unit);
}
