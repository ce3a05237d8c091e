using NetTopologySuite.Geometries;

namespace DecayAtlas.Atlas.Mapped;

internal static class SitePoint
{
    /// <summary>Where a map shows a site; nowhere where it has no published place, or stands at 0, 0, where empty forms lead.</summary>
    public static Point? Of(ReleasedSite site) =>
        site is { LatitudeDegrees: { } y, LongitudeDegrees: { } x } && !(x == 0 && y == 0) ? new Point(x, y) { SRID = 4326 } : null;
}
