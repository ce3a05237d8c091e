using NetTopologySuite.Geometries;

namespace DecayAtlas.Prediction.Regions;

/// <summary>Sums a map over polygons: areas, area-weighted mean k with an interval, share applicable.</summary>
public static class RegionSummary
{
    private const int Side = 16;
    private const double MostSquares = 1000;

    /// <summary>One row a polygon, in the order of the file. A cell counts by the share of it that lies in the polygon.</summary>
    /// <param name="model">Of the map.</param>
    /// <param name="covariatesAt">Covariates of the model at places, one array a covariate; not a number where there are none.</param>
    /// <param name="progress">Told "Regions", polygons done, polygons in all.</param>
    /// <exception cref="PredictionException">The file is no map.</exception>
    /// <exception cref="GridException">The map or a grid cannot be read.</exception>
    public static IReadOnlyList<RegionRow> Of(string mapPath, RegionSet regions, RateModel model,
        Func<IReadOnlyList<GeoPoint>, double[][]> covariatesAt, Action<string, int, int>? progress = null) =>
        Of(mapPath, regions, model.Errors, places => ErrorsAt(model, covariatesAt(places), places),
            new MemberMeans(model.Members, model.MemberQuantile), progress);

    /// <param name="errorsAt">Errors at places.</param>
    internal static IReadOnlyList<RegionRow> Of(string mapPath, RegionSet regions, ErrorCorrelation errors,
        Func<IReadOnlyList<GeoPoint>, PlaceErrors> errorsAt, MemberMeans? members, Action<string, int, int>? progress = null)
    {
        using MapReader map = new(mapPath);
        List<RegionRow> rows = new();
        foreach (Region region in regions.Regions)
        {
            rows.Add(RowOf(map, region, errors, errorsAt, members));
            progress?.Invoke("Regions", rows.Count, regions.Regions.Count);
        }
        return rows;
    }

    private static PlaceErrors ErrorsAt(RateModel model, double[][] covariates, IReadOnlyList<GeoPoint> places)
    {
        (double[] local, double[] ofMembers) = model.LocalErrors(covariates, places);
        return new(local, ofMembers);
    }

    private static RegionRow RowOf(MapReader map, Region region, ErrorCorrelation errors,
        Func<IReadOnlyList<GeoPoint>, PlaceErrors> errorsAt, MemberMeans? members)
    {
        Sums sums = new(map.Lattice, new MeanError(errors));
        double[][] layers = [.. MapBands.Tif.Select(_ => new double[Side * Side])];
        foreach (RegionShape shape in RegionShape.On(region.Shape, map.Lattice))
        {
            int west = From(shape.Box.MinX), north = From(shape.Box.MinY);
            int east = To(shape.Box.MaxX, map.Lattice.Columns), south = To(shape.Box.MaxY, map.Lattice.Rows);
            // squares as small as keep the double sum over them short
            double cells = (double)Math.Max(0, east - west) * Math.Max(0, south - north);
            int square = Math.Max(1, (int)Math.Ceiling(Math.Sqrt(cells / MostSquares)));
            for (int row = north; row < south; row += Side)
            {
                for (int column = west; column < east; column += Side)
                {
                    if (shape.Shares(column, row, Side) is not { } shares)
                        continue;
                    map.Read(column, row, Side, layers);
                    for (int i = 0; i < shares.Length; i++)
                        sums.Add(column + i % Side, row + i / Side, shares[i], square, layers, i);
                }
            }
        }
        return sums.Row(region.Name, AreaOf(region.Shape) / 1e6, errorsAt, members);
    }

    private static int From(double edge) => (int)Math.Max(0, Math.Floor(edge) - Math.Floor(edge) % Side);

    private static int To(double edge, int cells) => (int)Math.Min(cells, Math.Ceiling(edge));

    /// <summary>Area of a polygon on the ellipsoid, m²: rings inside count off. Sides are followed in steps of a hundredth of a
    /// degree.</summary>
    private static double AreaOf(Geometry shape)
    {
        double area = 0;
        for (int i = 0; i < shape.NumGeometries; i++)
        {
            Polygon polygon = (Polygon)shape.GetGeometryN(i);
            area += RingOf(polygon.ExteriorRing) - polygon.InteriorRings.Sum(RingOf);
        }
        return area;

        // straight in degrees, so a long side must be followed
        static double RingOf(LineString ring) => EllipsoidalArea.OfRing(
            [.. NetTopologySuite.Densify.Densifier.Densify(ring, Math.Max(0.01, ring.Length / 20_000)).Coordinates.SkipLast(1)
                .Select(c => new GeoPoint(c.X, c.Y))]);
    }

    private sealed class Sums(MapLattice lattice, MeanError error)
    {
        private double _area, _rate, _applicableArea, _applicableRate;
        private long _cells;

        public void Add(int column, int row, double share, int square, double[][] layers, int at)
        {
            double k = layers[0][at];
            // a polygon that follows the cells' edges touches its neighbours by a rounding
            if (share < 1e-9 || double.IsNaN(k))
                return;
            double weight = share * lattice.KnownAreaOf(column, row);
            _cells++;
            _area += weight;
            _rate += weight * k;
            if (layers[4][at] != 0)
            {
                _applicableArea += weight;
                _applicableRate += weight * k;
            }
            error.Add((column / square, row / square), lattice.CentreOf(column, row), weight * k);
        }

        public RegionRow Row(string name, double squareKilometres, Func<IReadOnlyList<GeoPoint>, PlaceErrors> errorsAt,
            MemberMeans? members)
        {
            if (!(_area > 0))
                return new(name, squareKilometres, 0, null, null, null, null, null, 0, null, null);
            MeanHalfWidths half = error.Result(errorsAt, members);
            double mean = _rate / _area, factor = Math.Exp(half.Sum);
            return new(name, squareKilometres, _area / 1e6, _applicableArea / _area, mean, Known(mean / factor), Known(mean * factor),
                _applicableArea > 0 ? _applicableRate / _applicableArea : null, _cells, Known(half.IndependentCells),
                Known(half.Shared * half.Shared / (half.Sum * half.Sum)));

            static double? Known(double value) => double.IsNaN(value) ? null : value;
        }
    }
}
