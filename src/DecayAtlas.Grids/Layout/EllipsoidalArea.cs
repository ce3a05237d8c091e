namespace DecayAtlas.Grids.Layout;

/// <summary>
/// Areas on the WGS 84 ellipsoid. Source: the area between the equator and a latitude is 2 pi a2 q/2 with Snyder's q (1987, USGS
/// Professional Paper 1395, eq. 3-12), so that in the coordinates (longitude, a2 q/2) the ellipsoid is flat, and an area there is
/// the ground's. Summed over the globe: 510.0656 million km2.
/// </summary>
public static class EllipsoidalArea
{
    private const int StepsPerSide = 4;

    private static readonly double Scale = Ellipsoid.Wgs84.A * Ellipsoid.Wgs84.A / 2;

    /// <summary>Area of the box between two meridians and two parallels, m2; exact.</summary>
    public static double OfBox(double westDegrees, double southDegrees, double eastDegrees, double northDegrees) =>
        double.DegreesToRadians(eastDegrees - westDegrees) * (Height(northDegrees) - Height(southDegrees));

    /// <summary>
    /// Area inside a ring of places, m2, positive for either direction: straight lines in (longitude, a2 q/2), which for sides of a
    /// few kilometres differ from geodesics by less than a millionth of the area. Longitudes may run on beyond 180.
    /// </summary>
    public static double OfRing(IReadOnlyList<GeoPoint> ring)
    {
        ArgumentNullException.ThrowIfNull(ring);
        double sum = 0;
        for (int i = 0; i < ring.Count; i++)
        {
            GeoPoint a = ring[i], b = ring[(i + 1) % ring.Count];
            double east = double.DegreesToRadians(Math.IEEERemainder(b.LongitudeDegrees - a.LongitudeDegrees, 360));
            sum += east * (Height(a.LatitudeDegrees) + Height(b.LatitudeDegrees)) / 2;
        }

        return Math.Abs(sum);
    }

    /// <summary>
    /// Area of one cell, m2: exact in degrees and in equal-area projections of the ellipsoid; otherwise of the ring of its border, 16
    /// places, taken back to the ground. NaN where a corner lies off the map.
    /// </summary>
    public static double OfCell(Projection projection, GridLattice lattice, int column, int row)
    {
        ArgumentNullException.ThrowIfNull(projection);
        ArgumentNullException.ThrowIfNull(lattice);
        double west = lattice.West + column * lattice.CellWidth, north = lattice.North - row * lattice.CellHeight;
        if (projection.IsGeographic)
        {
            // cells whose centres lie on a pole reach half a cell beyond it
            return OfBox(west, Math.Max(-90, north - lattice.CellHeight), west + lattice.CellWidth, Math.Min(90, north));
        }

        if (projection.IsEqualArea)
        {
            double unit = projection.UnitMetres;
            return lattice.CellWidth * unit * lattice.CellHeight * unit;
        }

        GeoPoint[] ring = new GeoPoint[4 * StepsPerSide];
        for (int i = 0; i < ring.Length; i++)
        {
            double along = i % StepsPerSide / (double)StepsPerSide;
            (double x, double y) = (i / StepsPerSide) switch
            {
                0 => (along, 0.0),
                1 => (1.0, along),
                2 => (1 - along, 1.0),
                _ => (0.0, 1 - along),
            };
            if (!projection.TryUnproject(west + x * lattice.CellWidth, north - y * lattice.CellHeight, out ring[i]))
                return double.NaN;
        }

        return OfRing(ring);
    }

    private static double Height(double latitudeDegrees) => Scale * Ellipsoid.Wgs84.Q(Math.Sin(double.DegreesToRadians(latitudeDegrees)));
}
