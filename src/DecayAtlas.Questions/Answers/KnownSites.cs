namespace DecayAtlas.Questions.Answers;

/// <summary>Where the sites of a configuration lie, as far as may be told: the place of a sensitive site is coarsened.</summary>
public sealed record KnownSites(string Origin, IReadOnlyList<GeoPoint> Places)
{
    /// <summary>The sites of the current release; before there is one, those of the valid contributions in the inbox.</summary>
    /// <param name="limits">What reading one contribution may cost.</param>
    /// <exception cref="AtlasException">The release cannot be read.</exception>
    public static KnownSites Of(AtlasFolder atlas, string inbox, IntakeLimits limits)
    {
        ArgumentNullException.ThrowIfNull(atlas);
        if (Directory.Exists(atlas.Root) && atlas.CurrentRelease() is { } current)
        {
            ReleaseReader release = new(atlas);
            return new KnownSites(
                $"release {current.Id}",
                [
                    .. release.Rows(AtlasTables.Sites).Where(s => s.LongitudeDegrees is not null && s.LatitudeDegrees is not null)
                        .Select(s => new GeoPoint(s.LongitudeDegrees!.Value, s.LatitudeDegrees!.Value)),
                ]);
        }

        string[] entries = Directory.Exists(inbox) ? Directory.GetFileSystemEntries(inbox) : [];
        return new KnownSites("the inbox", [.. entries.Order(StringComparer.Ordinal)
            .Select(path => ContributionReader.Read(path, limits).Contribution)
            .SelectMany(c => c?.Sites ?? [])
            .Select(s =>
                PublishedPlace.Of(s.DecimalLatitude, s.DecimalLongitude, s.CoordinateUncertaintyMetres, s.CoordinatesSensitive == true))
            .Where(p => p.LongitudeDegrees is not null && p.LatitudeDegrees is not null)
            .Select(p => new GeoPoint(p.LongitudeDegrees!.Value, p.LatitudeDegrees!.Value))
            .Distinct()]);
    }
}
