namespace DecayAtlas.Questions.Answers;

/// <summary>Where the sites of a configuration lie, as far as may be told: the place of a sensitive site is coarsened.</summary>
public sealed record KnownSites(string Origin, IReadOnlyList<GeoPoint> Places)
{
    /// <summary>The sites of the current release; before there is one, those of the valid contributions in the inbox.</summary>
    /// <param name="limits">What reading one contribution may cost.</param>
    /// <exception cref="AtlasException">The release cannot be read.</exception>
    public static KnownSites Of(AtlasFolder atlas, string inbox, IntakeLimits limits)
    {
        if (Directory.Exists(atlas.Root) && atlas.CurrentRelease() is { } current)
        {
            return new KnownSites($"release {current.Id}", [.. new ReleaseReader(atlas).Rows(AtlasTables.Sites)
                .SelectMany(s => Known(s.LongitudeDegrees, s.LatitudeDegrees))]);
        }

        string[] entries = Directory.Exists(inbox) ? Directory.GetFileSystemEntries(inbox) : [];
        return new KnownSites("the inbox", [.. entries.Order(StringComparer.Ordinal)
            .Select(path => ContributionReader.Read(path, limits).Contribution)
            .SelectMany(c => c?.Sites ?? [])
            .Select(s =>
                PublishedPlace.Of(s.DecimalLatitude, s.DecimalLongitude, s.CoordinateUncertaintyMetres, s.CoordinatesSensitive == true))
            .SelectMany(p => Known(p.LongitudeDegrees, p.LatitudeDegrees))
            .Distinct()]);
    }

    private static GeoPoint[] Known(double? longitude, double? latitude) =>
        longitude is { } east && latitude is { } north ? [new GeoPoint(east, north)] : [];
}
