namespace DecayAtlas.Prediction.Siting;

/// <summary>Existing sites beside a proposed place. Of those whose place is hidden nothing is told but what the release tells: in which
/// cell of 0.1 degrees they lie.</summary>
internal sealed class NeighbourSites(IReadOnlyList<ExistingSite> sites)
{
    private const double MetresPerDegree = 110_500;

    private readonly GeoPoint[] _told = [.. sites.Where(s => !s.IsHidden).Select(s => s.Place).OrderBy(p => p.LatitudeDegrees)];
    private readonly HashSet<(int, int)> _hidden = [.. sites.Where(s => s.IsHidden).Select(s => TenthOf(s.Place))];

    public bool IsNear(GeoPoint place, double metres)
    {
        foreach (GeoPoint site in _told)
        {
            // a degree of latitude is at least so long
            if (Math.Abs(site.LatitudeDegrees - place.LatitudeDegrees) * MetresPerDegree <= metres
                && site.GroundDistanceMetres(place) < metres)
            {
                return true;
            }
        }

        return false;
    }

    public double? NearestMetres(GeoPoint place) => _told.Length == 0 ? null : _told.Min(s => s.GroundDistanceMetres(place));

    public bool IsHiddenIn(GeoPoint place) => _hidden.Contains(TenthOf(place));

    private static (int, int) TenthOf(GeoPoint place) =>
        ((int)Math.Floor(10 * Math.IEEERemainder(place.LongitudeDegrees, 360)), (int)Math.Floor(10 * place.LatitudeDegrees));
}
